import { describe, expect, test } from '@jest/globals';
import { rootSumOfSquares, uAtHangOff, uAtTie, uBetween, uOfShoeFromFootage, uOnInnerWall, uPast } from './uncertainty.js';

const tie = { uShoeMm: 0, uPathMm: 0, uHangOffMdMm: 0, behindWeldMm: 0, lambda: 0.9, scaleRelativeU: 0 };

describe('standard uncertainties, by hand', () => {
  test('3, 4 and 12 combine to 13', () => {
    expect(rootSumOfSquares(3, 4, 12)).toBe(13);
  });

  test('hang-off: u_n counts λ-fold', () => {
    expect(uAtHangOff(3, 5, 0.8)).toBeCloseTo(5, 12);
  });

  test('tie: a shoe error counts 1 + λ-fold, x and md_h λ-fold, the scale on all pipe behind the weld point', () => {
    expect(uAtTie({ ...tie, uShoeMm: 10 })).toBeCloseTo(19, 12);
    expect(uAtTie({ ...tie, uPathMm: 10 })).toBeCloseTo(9, 12);
    expect(uAtTie({ ...tie, uHangOffMdMm: 10 })).toBeCloseTo(9, 12);
    expect(uAtTie({ ...tie, behindWeldMm: 500_000, scaleRelativeU: 0.001 })).toBeCloseTo(450, 9);
  });

  test('between: that of each end at the ends, and the bridge in the middle', () => {
    expect(uBetween({ uMm: 7, distanceMm: 0 }, { uMm: 9, distanceMm: 100 }, 1, 0.01)).toBe(7);
    expect(uBetween({ uMm: 7, distanceMm: 100 }, { uMm: 9, distanceMm: 0 }, 1, 0.01)).toBe(9);
    expect(uBetween({ uMm: 0, distanceMm: 100_000 }, { uMm: 0, distanceMm: 100_000 }, 0.9, 0.001)).toBeCloseTo(45, 12);
  });

  test('between, the other end far away: grows as past the last', () => {
    const far = uBetween({ uMm: 0, distanceMm: 1_000 }, { uMm: 0, distanceMm: 1e15 }, 1, 0.001);
    expect(far).toBeCloseTo(uPast({ uMm: 0, distanceMm: 1_000 }, 1, 0.001, 0), 9);
  });

  test('past the last: λ ± 0.02 moves the outer wall 10 m for every 500 m', () => {
    expect(uPast({ uMm: 0, distanceMm: 500_000 }, 0.9, 0, 0.02)).toBeCloseTo(10_000, 9);
    expect(uPast({ uMm: 30, distanceMm: 400 }, 1, 0.1, 0)).toBeCloseTo(50, 12);
  });

  test('shoe from the counter: half of an error in the footage, for λ = 1', () => {
    expect(uOfShoeFromFootage(0, 0, 10, 1)).toBe(5);
    expect(uOfShoeFromFootage(6, 8, 0, 1)).toBe(5);
  });

  test('inner wall: grows with the pipe counted', () => {
    expect(uOnInnerWall({ fixedMm: 30, countedFromNetMm: 50_000 }, 10_000, 0.001)).toBeCloseTo(50, 12);
  });
});
