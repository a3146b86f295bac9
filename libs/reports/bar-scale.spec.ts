import { describe, expect, test } from '@jest/globals';
import { drawnStretch, rangeHolding, roundStepMm, scaleMarks, toPt } from './bar-scale.js';

const scale = { rangeMm: { fromMm: 0, toMm: 1_000_000 }, leftPt: 40, widthPt: 500 };

describe('the scale of a bar', () => {
  test('its ends are the ends of the range', () => {
    expect(toPt(scale, 0)).toBe(40);
    expect(toPt(scale, 1_000_000)).toBe(540);
    expect(toPt(scale, 250_000)).toBe(165);
  });

  test('the range holds zero and everything drawn, and is never empty', () => {
    expect(rangeHolding([5_000, 9_000])).toEqual({ fromMm: 0, toMm: 9_000 });
    expect(rangeHolding([-300, 100])).toEqual({ fromMm: -300, toMm: 100 });
    expect(rangeHolding([0])).toEqual({ fromMm: 0, toMm: 1 });
  });

  test('a stretch at or above the minimum is drawn true, a shorter one about its middle', () => {
    expect(drawnStretch(scale, { fromMm: 100_000, toMm: 106_000 })).toEqual({ leftPt: 90, widthPt: 3 });
    expect(drawnStretch(scale, { fromMm: 100_000, toMm: 108_000 })).toEqual({ leftPt: 90, widthPt: 4 });
    expect(drawnStretch(scale, { fromMm: 100_000, toMm: 100_000 })).toEqual({ leftPt: 88.5, widthPt: 3 });
  });

  test('a short stretch at an end stays on the bar', () => {
    expect(drawnStretch(scale, { fromMm: 0, toMm: 0 })).toEqual({ leftPt: 40, widthPt: 3 });
    expect(drawnStretch(scale, { fromMm: 1_000_000, toMm: 1_000_000 })).toEqual({ leftPt: 537, widthPt: 3 });
  });

  test.each([
    [1, 1],
    [8, 1],
    [9, 2],
    [16_000, 2_000],
    [16_001, 5_000],
    [354_000, 50_000],
    [80_000_000, 10_000_000],
  ])('%d mm is cut by steps of %d mm', (lengthMm, stepMm) => {
    expect(roundStepMm(lengthMm, 8)).toBe(stepMm);
  });

  test('both ends come first, then the round lengths between', () => {
    const marks = scaleMarks({ fromMm: 0, toMm: 354_000 }).map((mark) => mark.text);
    expect(marks).toEqual(['0', '354', '50', '100', '150', '200', '250', '300', '350']);
  });
});
