import { describe, expect, test } from '@jest/globals';
import { netLengthMap } from '#libs/length';
import { aCutOut } from '../../../../test/fixtures/string-lengths.js';
import { affectedPipe, eitherWay, type AffectedPipe, type StoppedLine } from './affected-pipe.js';

const uncut: StoppedLine = { net: netLengthMap([]), scaleRelativeU: 0, influenceMm: 0 };
const exact = (pathMm: number) => ({ minMm: pathMm, maxMm: pathMm, uMm: 0 });
const at50m = { footageMm: 50_000, uMm: 0 };

describe('the pipe a stop affects at a station', () => {
  test('is the one millimetre that stood there, when everything is exact', () => {
    const stood = { fromMm: 43_800, toMm: 43_801 };
    expect(affectedPipe(at50m, exact(6_200), uncut)).toEqual({ nearestMm: 43_800, certain: stood, possible: stood });
  });

  test('at the weld point is the millimetre about to be made', () => {
    expect(affectedPipe(at50m, exact(0), { ...uncut, influenceMm: 20 })).toMatchObject({ possible: { fromMm: 49_980, toMm: 50_021 } });
  });

  test('carries 2 √(3² + (0.0005 · 6200)²) = 8.63 mm of doubt to both sides, and the half length of influence', () => {
    const line = { ...uncut, scaleRelativeU: 0.0005, influenceMm: 150 };
    expect(affectedPipe(at50m, { minMm: 6_200, maxMm: 6_200, uMm: 3 }, line)).toEqual({
      nearestMm: 43_800, certain: { fromMm: 43_659, toMm: 43_942 }, possible: { fromMm: 43_641, toMm: 43_960 },
    });
  });

  test('is nowhere certain while the doubt is greater than the influence', () => {
    const found = affectedPipe({ footageMm: 50_000, uMm: 10 }, exact(6_200), { ...uncut, influenceMm: 19 });
    expect(found).toEqual({ nearestMm: 43_800, certain: null, possible: { fromMm: 43_761, toMm: 43_840 } });
    // 20 mm to both sides reach the middle from either end of the doubt: one millimetre is certain.
    expect(affectedPipe({ footageMm: 50_000, uMm: 10 }, exact(6_200), { ...uncut, influenceMm: 20 })).toMatchObject({ certain: { fromMm: 43_800, toMm: 43_801 } });
  });

  test('behind a loop that stores 2 to 5 m lies between the nearest and the farthest', () => {
    expect(affectedPipe(at50m, { minMm: 2_000, maxMm: 5_000, uMm: 0 }, { ...uncut, influenceMm: 1_600 })).toEqual({
      nearestMm: 46_500, certain: { fromMm: 46_400, toMm: 46_601 }, possible: { fromMm: 43_400, toMm: 49_601 },
    });
  });

  test('lies further back over a cut-out made before, and its influence reaches across the re-join', () => {
    const line = { ...uncut, net: netLengthMap([aCutOut(43_000, 44_000, 1)]), influenceMm: 10 };
    expect(affectedPipe(at50m, exact(6_200), line)).toMatchObject({ nearestMm: 42_800 });
    expect(affectedPipe(at50m, exact(6_000), line)).toEqual({
      nearestMm: 44_000, certain: { fromMm: 42_990, toMm: 44_011 }, possible: { fromMm: 42_990, toMm: 44_011 },
    });
  });

  test('is none upstream, where there is strip only, and none where the pipe did not reach', () => {
    expect(affectedPipe(at50m, { minMm: -14_000, maxMm: -10_000, uMm: 5 }, uncut)).toBe('strip-only');
    expect(affectedPipe(at50m, exact(50_001), uncut)).toBe('not-reached');
    expect(affectedPipe(at50m, exact(50_000), uncut)).toMatchObject({ possible: { fromMm: 0, toMm: 1 } });
    expect(affectedPipe(at50m, exact(50_003), { ...uncut, influenceMm: 5 })).toEqual({
      nearestMm: null, certain: { fromMm: 0, toMm: 3 }, possible: { fromMm: 0, toMm: 3 },
    });
  });
});

describe('two figures for one stop', () => {
  const found = (fromMm: number, toMm: number, certain: AffectedPipe['certain']): AffectedPipe => ({ nearestMm: null, certain, possible: { fromMm, toMm } });

  test('are both taken in: certain what both say, possible what either says and what lies between', () => {
    expect(eitherWay(found(0, 100, { fromMm: 20, toMm: 80 }), found(60, 160, { fromMm: 70, toMm: 140 }))).toEqual({
      certain: { fromMm: 70, toMm: 80 }, possible: { fromMm: 0, toMm: 160 },
    });
    expect(eitherWay(found(0, 10, { fromMm: 2, toMm: 8 }), found(50, 60, { fromMm: 52, toMm: 58 }))).toEqual({ certain: null, possible: { fromMm: 0, toMm: 60 } });
  });

  test('of which one finds no pipe leave nothing certain', () => {
    expect(eitherWay(found(0, 10, { fromMm: 2, toMm: 8 }), 'not-reached')).toEqual({ certain: null, possible: { fromMm: 0, toMm: 10 } });
    expect(eitherWay('not-reached', found(0, 10, null))).toEqual({ certain: null, possible: { fromMm: 0, toMm: 10 } });
    expect(eitherWay('strip-only', 'strip-only')).toBe('strip-only');
  });
});
