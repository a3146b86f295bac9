import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { ISO_7870_2_RULES, NELSON_RULES, RUN_RULES, runSignals, type RunRule, WESTERN_ELECTRIC_RULES } from '#libs/spc';

const placed = (values: readonly number[]): { value: number; centre: number; standardError: number }[] =>
  values.map((value) => ({ value, centre: 0, standardError: 1 }));
const firing = (values: readonly number[], rule: RunRule, beginsAnew?: readonly number[]): number[] =>
  runSignals(placed(values), [rule], beginsAnew).map(({ point }) => point);

const times = (count: number, value: number): number[] => Array.from({ length: count }, () => value);
const zigzag = (count: number): number[] => Array.from({ length: count }, (_, index) => (index % 2 === 0 ? 0.3 : -0.3));
const rising = (count: number): number[] => Array.from({ length: count }, (_, index) => -0.5 + index / 10);

/** The shortest sequence that signals, for each rule, and its last point. */
const MINIMAL: Readonly<Record<RunRule, readonly number[]>> = {
  oneBeyond3Sigma: [3.001],
  twoOfThreeBeyond2Sigma: [2.001, 0, 2.001],
  fourOfFiveBeyond1Sigma: [1.001, 1.2, 0, 1.1, 1.001],
  sevenOnOneSide: times(7, 0.001),
  eightOnOneSide: times(8, 0.001),
  nineOnOneSide: times(9, 0.001),
  sixSteadily: rising(6),
  sevenSteadily: rising(7),
  fourteenAlternating: zigzag(14),
  fifteenWithin1Sigma: [...zigzag(14), 0.999],
  eightBeyond1Sigma: [1.001, -1.001, 1.1, -1.2, 1.001, 1.3, -1.5, -1.001],
};
const RULES = Object.keys(RUN_RULES) as RunRule[];

describe.each(RULES)('%s', (rule) => {
  const minimal = MINIMAL[rule];

  test('its minimal sequence signals at the last point, on either side; the same less one does not', () => {
    for (const side of [1, -1]) {
      const values = minimal.map((value) => side * value);
      expect(firing(values, rule)).toEqual([minimal.length]);
      values.forEach((_, index) => {
        // Of 2 of 3 and 4 of 5 the point that need not be there may go.
        if (values[index] !== 0) expect(firing(values.filter((_value, place) => place !== index), rule)).toEqual([]);
      });
    }
  });

  test('nothing reaches across a point where something else begins', () => {
    if (minimal.length > 1) expect(firing(minimal, rule, [minimal.length])).toEqual([]);
    expect(firing(minimal, rule, [1])).toEqual([minimal.length]);
  });

  test('shift, scale and mirror change nothing', () => {
    fc.assert(fc.property(fc.array(fc.integer({ min: -35, max: 35 }), { maxLength: 60 }), fc.integer({ min: -64, max: 64 }), (tenths, shift) => {
      const values = tenths.map((tenth) => tenth / 8);
      const found = firing(values, rule);
      expect(runSignals(values.map((value) => ({ value: shift - 2 * value, centre: shift, standardError: 2 })), [rule]).map(({ point }) => point)).toEqual(found);
    }));
  });
});

describe('runSignals', () => {
  test('a point on a line is neither beyond it nor within it', () => {
    expect(firing([3, -3], 'oneBeyond3Sigma')).toEqual([]);
    expect(firing([2, 2, 2], 'twoOfThreeBeyond2Sigma')).toEqual([]);
    expect(firing([...times(7, 1), 0, ...times(7, 1)], 'eightOnOneSide')).toEqual([]);
    expect(firing(times(15, 1), 'fifteenWithin1Sigma')).toEqual([]);
    expect(firing(times(8, 1), 'eightBeyond1Sigma')).toEqual([]);
    expect(firing([0, 1, 2, 2, 3, 4, 5], 'sixSteadily')).toEqual([]);
  });

  test('names the points of the pattern, and signals again while it lasts', () => {
    expect(runSignals(placed([2.5, -2.5, 2.5, 2.5, 0.1]), ['twoOfThreeBeyond2Sigma'])).toEqual([
      { rule: 'twoOfThreeBeyond2Sigma', point: 3, points: [1, 3] },
      { rule: 'twoOfThreeBeyond2Sigma', point: 4, points: [3, 4] },
    ]);
    expect(runSignals(placed(rising(7)), ['sixSteadily'])).toEqual([
      { rule: 'sixSteadily', point: 6, points: [1, 2, 3, 4, 5, 6] }, { rule: 'sixSteadily', point: 7, points: [2, 3, 4, 5, 6, 7] },
    ]);
  });

  test('several rules at once, by point and in the order asked; only those asked', () => {
    const values = [2.5, 3.5];
    expect(runSignals(placed(values), WESTERN_ELECTRIC_RULES).map(({ rule, point }) => [rule, point]))
      .toEqual([['oneBeyond3Sigma', 2], ['twoOfThreeBeyond2Sigma', 2]]);
    expect(runSignals(placed(values), ISO_7870_2_RULES).map(({ rule }) => rule)).toEqual(['oneBeyond3Sigma']);
    expect(runSignals(placed(values), [])).toEqual([]);
    expect(new Set(NELSON_RULES).size).toBe(8);
  });

  /** The definitions word by word, looking back from each point over all that came. */
  test('agrees with the wording of the zone rules, looked up afresh at each point', () => {
    fc.assert(fc.property(fc.array(fc.double({ min: -3.5, max: 3.5, noNaN: true }), { maxLength: 80 }), (values) => {
      for (const [rule, count, of, sigmas] of [['twoOfThreeBeyond2Sigma', 2, 3, 2], ['fourOfFiveBeyond1Sigma', 4, 5, 1], ['nineOnOneSide', 9, 9, 0]] as const) {
        const expected = values.flatMap((value, index) => {
          const back = values.slice(Math.max(index - of + 1, 0), index + 1);
          const holds = (side: number): boolean => side * value > sigmas && back.filter((one) => side * one > sigmas).length >= count;
          return holds(1) || holds(-1) ? [index + 1] : [];
        });
        expect(firing(values, rule)).toEqual(expected);
      }
    }));
  });

  test('what is no point of a chart is refused', () => {
    expect(() => runSignals([{ value: NaN, centre: 0, standardError: 1 }], [])).toThrow(RangeError);
    expect(() => runSignals([{ value: 1, centre: 0, standardError: 0 }], []))
      .toThrow(new RangeError('not a point of a chart: 1, about 0 with the standard deviation 0'));
  });
});
