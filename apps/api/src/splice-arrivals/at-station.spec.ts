import { describe, expect, test } from '@jest/globals';
import { netLengthMap, NetLengths } from '#libs/length';
import { aCutOut } from '../../../../test/fixtures/string-lengths.js';
import { compareSighting, futureFootage, weldFootageWhenAt, windowAt, type RunningLine } from './at-station.js';
import { Reach } from './reach.js';

const line = (changes: Partial<RunningLine> = {}): RunningLine => ({ nets: new NetLengths([]), reach: new Reach([]), scaleRelativeU: 0, ...changes });
const exact = (pathMm: number) => ({ minMm: pathMm, maxMm: pathMm, uMm: 0 });
const uncut = { net: netLengthMap([]), scaleRelativeU: 0 };

describe('how far the line had run', () => {
  const reach = new Reach([{ atUs: 10, footageMm: 100 }, { atUs: 20, footageMm: 300 }, { atUs: 30, footageMm: 250 }, { atUs: 40, footageMm: 400 }]);

  test('is found between readings; what was made before the first is at the first', () => {
    expect([50, 100, 200, 300].map((mm) => reach.firstUs(mm))).toEqual([10, 10, 15, 20]);
  });

  test('after a reversal is where it goes beyond what was reached: 301 at 30 + 10 · 51/150', () => {
    expect(reach.firstUs(301)).toBeCloseTo(33.4, 9);
    expect([reach.firstUs(401), reach.greatestMm, new Reach([]).firstUs(0), new Reach([]).greatestMm]).toEqual([null, 400, null, null]);
  });
});

describe('the footage at the weld point when material is at a station', () => {
  test('is x further; upstream so much less', () => {
    expect(weldFootageWhenAt(50_000, 6_200, line())).toBe(56_200);
    expect(weldFootageWhenAt(50_000, -4_000, line())).toBe(46_000);
    // What was cut out downstream takes no strip away.
    expect(weldFootageWhenAt(50_000, -4_000, line({ nets: new NetLengths([aCutOut(47_000, 47_500, 1)]) }))).toBe(46_000);
  });

  test('counts a cut-out between only when it was made by then', () => {
    const run = new Reach([{ atUs: 0, footageMm: 0 }, { atUs: 100, footageMm: 100_000 }]);
    // Cut when 54 000 mm were made, before the material came to the station: 500 mm more have to pass.
    expect(weldFootageWhenAt(50_000, 6_200, line({ nets: new NetLengths([aCutOut(52_000, 52_500, 54)]), reach: run }))).toBe(56_700);
    // Cut later: it was past already.
    expect(weldFootageWhenAt(50_000, 6_200, line({ nets: new NetLengths([aCutOut(52_000, 52_500, 57)]), reach: run }))).toBe(56_200);
    // Nothing was read yet: what is known to be cut is cut.
    expect(weldFootageWhenAt(50_000, 6_200, line({ nets: new NetLengths([aCutOut(52_000, 52_500, 57)]) }))).toBe(56_700);
  });

  test('has a gate: ± 2 √(5² + 3² + (0.0005 · 6200)²) = 13.19', () => {
    expect(windowAt({ mm: 50_000, uMm: 5 }, { minMm: 6_200, maxMm: 6_200, uMm: 3 }, line({ scaleRelativeU: 0.0005 }))).toEqual({
      bestMm: 56_200, span: { fromMm: 56_186, toMm: 56_215 },
    });
  });

  test('behind an accumulator takes in its range', () => {
    expect(windowAt({ mm: 50_000, uMm: 0 }, { minMm: -14_000, maxMm: -10_000, uMm: 0 }, line())).toEqual({ bestMm: 38_000, span: { fromMm: 36_000, toMm: 40_001 } });
  });
});

test('strip seen upstream is to have the footage F − x, over the range of the accumulator: ± 2 √(5² + 4²) = 12.81', () => {
  expect(futureFootage({ mm: 50_000, uMm: 4 }, { minMm: -14_000, maxMm: -10_000, uMm: 5 })).toEqual({ bestMm: 62_000, span: { fromMm: 59_987, toMm: 64_014 } });
});

describe('a sighting', () => {
  const place = { mm: 50_000, uMm: 5 };

  test('where the stated distance says agrees', () => {
    expect(compareSighting(place, { mm: 56_208, uMm: 0 }, exact(6_200), uncut)).toMatchObject({ differenceMm: 8, plusMinusMm: 10, agrees: true });
  });

  test('later than that names the station farther, earlier nearer', () => {
    const off = (mm: number) => compareSighting(place, { mm, uMm: 0 }, exact(6_200), uncut);
    expect(off(57_450)).toMatchObject({ differenceMm: 1_250, agrees: false, words: expect.stringContaining('seen 1250 mm later than the stated distance says') });
    expect(off(57_450).words).toContain('farther from');
    expect(off(56_189)).toMatchObject({ differenceMm: -11, agrees: false, words: expect.stringContaining('nearer to') });
  });

  test('over a cut-out made by then counts the pipe that is left', () => {
    expect(compareSighting(place, { mm: 56_700, uMm: 0 }, exact(6_200), { ...uncut, net: netLengthMap([aCutOut(52_000, 52_500, 1)]) })).toMatchObject({ differenceMm: 0, agrees: true });
  });

  test('behind an accumulator is as uncertain as its range', () => {
    expect(compareSighting({ mm: 50_000, uMm: 0 }, { mm: 36_500, uMm: 0 }, { minMm: -14_000, maxMm: -10_000, uMm: 0 }, uncut)).toMatchObject({ differenceMm: -1_500, plusMinusMm: 2_000, agrees: true });
  });
});
