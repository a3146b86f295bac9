import { describe, expect, test } from '@jest/globals';
import { Refused } from '../http/problem.js';
import { runLengthQuestionOf } from './run-length-question.js';
import { runLengths } from './run-lengths.js';

const lengths = async (query: Record<string, string>): Promise<(number | null)[][]> => (await runLengths(runLengthQuestionOf(query))).lengths.map(({ shift, points, minutes }) => [shift, Number(points.toPrecision(4)), minutes === null ? null : Number(minutes.toPrecision(2))]);
const WESTERN_ELECTRIC = 'one-beyond-3-sigma,two-of-three-beyond-2-sigma,four-of-five-beyond-1-sigma,eight-on-one-side';

describe('what a choice costs', () => {
  test('by the rules: one alone, and four of them (Champ and Woodall 1987, table 1: 370.40, 91.75)', async () => {
    expect(await lengths({ shifts: '0' })).toEqual([[0, 370.4, null]]);
    expect(await lengths({ rules: WESTERN_ELECTRIC, shifts: '0' })).toEqual([[0, 91.75, null]]);
  });

  test('of twelve charts with four rules at a point a minute: a false alarm every 8 minutes', async () => {
    expect(await lengths({ rules: WESTERN_ELECTRIC, charts: '12', minutesAPoint: '1', shifts: '1' })).toEqual([[0, 91.75, 7.6], [1, expect.any(Number), expect.any(Number)]]);
  });

  test('of averages and sums (Montgomery, table 9.3: two-sided CUSUM k = 0.5, h = 5: 465, 10.4 at one standard deviation)', async () => {
    expect(await lengths({ chart: 'cusum', shifts: '1' })).toEqual([[0, 465.4, null], [1, 10.38, null]]);
    // Lucas and Saccucci 1990: λ = 0.1, L = 2.814 has 500.
    expect((await lengths({ chart: 'ewma', lambda: '0.1', width: '2.814', shifts: '0' }))[0]?.[1]).toBeCloseTo(500, -1);
  });

  test('of values that resemble each other, with the limits that moving ranges give', async () => {
    const [correlated] = await lengths({ phi: '0.7', shifts: '0' });
    expect(correlated?.[1]).toBeLessThan(40);
  });
});

describe('a question is refused', () => {
  const fields = (query: Record<string, string>): unknown[] => {
    try {
      runLengthQuestionOf(query);
      return [];
    } catch (error) {
      return (error as Refused).errors.map(({ field }) => field);
    }
  };

  test('with one entry for each wrong parameter', () => {
    expect(fields({ chart: 'ewma', rules: 'one-beyond-3-sigma', lambda: '0', shifts: 'a', charts: '0', colour: 'red' })).toEqual(['colour', 'rules', 'lambda', 'shifts', 'charts']);
    expect(fields({ rules: 'nine', phi: '0.5' })).toEqual(['rules', 'phi']);
    expect(fields({ rules: WESTERN_ELECTRIC, phi: '0.5' })).toEqual(['phi']);
  });
});
