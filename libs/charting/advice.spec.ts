import { describe, expect, test } from '@jest/globals';
import { effectiveCount, naiveChart } from '#libs/spc';
import { normalNumbers } from '../../test/fixtures/normal-numbers.js';
import { adviceOn, type Advice } from './advice.js';
import { charted } from './charted.js';
import { correlatedValues, counts, design, row } from './charting.factory.js';
import { CHART_FAMILIES, type ChartDesign } from './design.js';
import { batchSizeFor, lagOneOf, spacingFor } from './lag-one.js';
import type { SeriesPoint } from './series.js';
import { trialLimits } from './trial-limits.js';

const advised = (of: ChartDesign, series: readonly SeriesPoint[], changes: { coils?: number | null; signalling?: number } = {}): Advice =>
  adviceOn({ design: of, limits: trialLimits(of, series), series, coils: null, signalling: 0, ...changes });
/** P(|z| > 3). */
const BEYOND_3 = naiveChart(0).outsideShare;
const codes = ({ warnings }: Advice): string[] => warnings.map(({ code }) => code);
const outside = (of: ChartDesign, series: readonly SeriesPoint[]): number => {
  const { panels, signals } = charted(of, trialLimits(of, series), series);
  return signals.filter(({ panel }) => panel === 0).length / (panels[0]?.points.length ?? NaN);
};

describe('of points that resemble each other', () => {
  test.each([0.3, 0.5, 0.7, 0.9])('a naive chart is wrong at φ = %d as it says, and the charts that it offers are right', (phi) => {
    const series = row(correlatedValues(normalNumbers(11), phi, 20_000));
    const of = design('individuals');
    const advice = advised(of, series);
    expect(codes(advice)).toEqual(['correlated']);
    expect(advice.lagOne?.phi).toBeCloseTo(phi, 1);
    // Far more outside than 0.27 %, by what the warning says: to a fifth of it, which 20,000 correlated values leave open.
    const said = naiveChart(phi).outsideShare;
    expect(Math.abs(outside(of, series) / said - 1)).toBeLessThan(0.2);
    expect(advice.better.map(({ chart }) => chart)).toEqual(['residuals', 'batch-means', 'long-term']);
    // Of 20,000 independent residuals 54 lie outside, and by chance 30 to 78.
    const [residuals, batches] = advice.better as [ChartDesign, ChartDesign];
    expect(outside(residuals, series) * 20_000).toBeGreaterThan(30);
    expect(outside(residuals, series) * 20_000).toBeLessThan(78);
    // Of batches some resemblance of up to 0.1 is left: by naiveChart(0.1) 0.44 %.
    const batchCount = Math.floor(20_000 / (batches.batchSize ?? NaN));
    expect(outside(batches, series)).toBeLessThan(0.0044 + 4 * Math.sqrt(0.0044 / batchCount));
  });

  test('a single point far from all others does not hide it: the warning says what the row is without that point', () => {
    const values = correlatedValues(normalNumbers(17), 0.7, 200);
    const planted = values.map((value, index) => (index === 90 ? 25 : value));
    const near = row([...values.slice(0, 90), ...values.slice(91)], [90]);
    const { phi, interval } = lagOneOf(near.map(({ values: [value = NaN] }) => value), near)!;
    const advice = advised(design('individuals'), row(planted));
    expect(advice.lagOne!.phi).toBeLessThan(advice.lagOne!.independentWithin);
    expect(advice.warnings).toEqual([{
      code: 'correlation-hidden',
      text: `1 point lies far from all others and hides that neighbours resemble each other: without it lag-1 correlation ${phi.toFixed(2)}, ${interval.from.toFixed(2)} to ${interval.to.toFixed(2)}. Find its cause, leave it out with the reason, and look again.`,
    }]);
    expect(codes(advised(design('individuals'), near))).toEqual(['correlated']);
    // Of independent points there is nothing to hide, nor of a chart that takes none for independent.
    const independent = correlatedValues(normalNumbers(17), 0, 200).map((value, index) => (index === 90 ? 25 : value));
    expect([codes(advised(design('individuals'), row(independent))), codes(advised(design('long-term'), row(planted)))]).toEqual([[], []]);
  });

  test.each([
    ['mean-range', {}], ['mean-deviation', {}], ['between-within', {}], ['ewma', { lambda: 0.2, width: 3 }], ['cusum', { k: 0.5, h: 5 }], ['batch-means', { batchSize: 2 }],
  ] as const)('a chart %s is wrong and told so, and the charts that it offers are right and are not', (chart, changes) => {
    const [points, phi, normal] = [8_000, 0.8, normalNumbers(13)];
    const levels = correlatedValues(normal, phi, points);
    const of = design(chart, changes);
    const series = row(CHART_FAMILIES[chart] === 'subgroups' ? levels.map((level) => [level + normal() / 10, level + normal() / 10]) : levels);
    const advice = advised(of, series);
    expect(codes(advice)).toContain('correlated');
    expect(outside(of, series)).toBeGreaterThan(10 * BEYOND_3);
    expect(advice.better.map((one) => one.chart)).toEqual(['residuals', 'batch-means', 'long-term']);
    for (const better of advice.better) {
      const independent = better.chart === 'residuals' ? points : better.chart === 'batch-means' ? points / (better.batchSize ?? NaN) : effectiveCount(points, phi);
      // Of batches some resemblance of up to 0.1 is left.
      const share = better.chart === 'batch-means' ? naiveChart(0.1).outsideShare : BEYOND_3;
      expect([better.chart, Math.abs(outside(better, series) - share) < 4 * Math.sqrt(share / independent)]).toEqual([better.chart, true]);
      expect([better.chart, codes(advised(better, series))]).toEqual([better.chart, []]);
    }
  });

  test('are told by figures that can be read', () => {
    const { warnings: [warning] } = advised(design('individuals'), row(correlatedValues(normalNumbers(11), 0.7, 20_000)));
    expect(warning?.text).toMatch(/^Points that follow each other resemble each other \(lag-1 correlation 0\.\d\d, 0\.\d\d to 0\.\d\d\)\./);
    expect(warning?.text).toMatch(/0\.5\d times as wide .* 1\d % .* instead of 0\.27 %, Cpk would look 1\.8 times as good, and 100 points say as much of the mean as 1[5-9] independent ones\. Points [67] times as far apart would resemble each other by less than 0\.1\.$/);
  });

  test('are told of moving ranges as of a chart of single values, whatever the limits come from', () => {
    const series = row(correlatedValues(normalNumbers(11), 0.7, 200).map((level) => [level, level + 0.1]));
    expect(advised(design('mean-deviation'), series).warnings[0]).toMatchObject({ code: 'correlated', text: expect.stringContaining('). On a chart of single values limits from moving ranges would be 0.') });
  });

  test('are told how far apart points would have to lie, if at all', () => {
    const text = (phi: number, count: number): string => advised(design('individuals'), row(correlatedValues(normalNumbers(11), phi, count))).warnings[0]?.text ?? '';
    expect(text(0.05, 20_000)).toMatch(/independent ones\.$/);
    const still = Array.from({ length: 1_000 }, (_, index) => index);
    expect(advised(design('individuals'), row(still)).warnings[0]?.text).toMatch(/a single independent one\. Points would have to lie more than 1,000 times as far apart to resemble each other by less than 0\.1\.$/);
  });

  test('and are few are told as so many independent ones where limits are by their spread, unless they are few anyway', () => {
    const told = (phi: number, count: number): unknown[] => advised(design('long-term'), row(correlatedValues(normalNumbers(11), phi, count))).warnings.map(({ code, text }) => [code, text]);
    const values = correlatedValues(normalNumbers(11), 0.98, 106);
    const { phi, interval } = lagOneOf(values, row(values))!;
    const independent = Math.floor(effectiveCount(106, phi));
    expect(independent).toBeLessThan(10);
    expect(told(0.98, 106)).toEqual([['few-independent',
      `These 106 points resemble each other so much (lag-1 correlation ${phi.toFixed(2)}, ${interval.from.toFixed(2)} to ${interval.to.toFixed(2)}) that they say as much of the mean as ${independent} independent ones: `
      + 'limits by their spread are uncertain; at least 20 points are usual (common practice, no published source).']]);
    expect(told(0.9, 19).map((one) => (one as string[])[0])).toEqual(['few-points']);
    expect([told(0.98, 4_000), told(0, 25)]).toEqual([[], []]);
    // Beyond all others: a row that only climbs.
    expect(advised(design('long-term'), row(Array.from({ length: 60 }, (_, index) => index))).warnings[0]?.text).toContain('as much of the mean as a single independent one');
  });

  test('in few points are offered no model of them', () => {
    const series = row(correlatedValues(normalNumbers(5), 0.9, 40));
    expect(advised(design('individuals'), series).better.map(({ chart }) => chart)).toEqual(['long-term']);
  });
});

test('rows of several channels are warned of by the channel that resembles itself the most, and of independent ones nothing is said', () => {
  const [one, other] = [correlatedValues(normalNumbers(3), 0.8, 400), correlatedValues(normalNumbers(4), 0, 400)];
  const rows = (first: readonly number[]): SeriesPoint[] => first.map((value, index) => ({ values: [value, other[index] as number], of: null, beginsAnew: false }));
  const of = design('t-squared', { alpha: 0.0027 });
  expect(advised(of, rows(one))).toMatchObject({ warnings: [{ code: 'correlated', text: expect.stringMatching(/lag-1 correlation 0\.[78]\d, .* as much of the means as 1\d independent ones\. Rows \d+ times as far apart .* Beside it/) }], better: [] });
  expect(codes(advised(of, rows(correlatedValues(normalNumbers(5), 0, 400))))).toEqual([]);
});

describe('nothing is said', () => {
  test('of independent values, and of charts that are made for others', () => {
    const independent = row(correlatedValues(normalNumbers(2), 0, 2_000));
    expect(advised(design('individuals'), independent)).toMatchObject({ warnings: [], better: [] });
    const correlated = row(correlatedValues(normalNumbers(2), 0.8, 2_000));
    for (const chart of ['residuals', 'long-term'] as const) {
      const advice = advised(design(chart), correlated);
      expect(advice).toMatchObject({ warnings: [], better: [] });
      // The correlation is shown all the same.
      expect(advice.lagOne?.phi).toBeGreaterThan(0.75);
    }
  });

  test('of a correlation where there is none to be had', () => {
    expect(lagOneOf([1, 2, 3], row([1, 2, 3]))).toBeNull();
    expect(lagOneOf([2, 2, 2, 2, 2], row([2, 2, 2, 2, 2]))).toBeNull();
    expect(lagOneOf([1, 2, 1, 2], row([1, 2, 1, 2], [1, 2, 3]))).toBeNull();
  });
});

describe('stretches that lie far apart', () => {
  // Between them lie two of a single point each, near the mean of all: those count for the spread alone.
  const far = [...Array.from({ length: 12 }, (_, index) => 10 + (index % 3) / 10), 5.1, 5.2, ...Array.from({ length: 12 }, (_, index) => (index % 3) / 10)];
  const series = row(far, [12, 13, 14]);

  test('have an autocorrelation no nearer to 1 than so many points can tell', () => {
    expect(lagOneOf(far, series)?.phi).toBe(1 - 1 / far.length);
    expect(codes(advised(design('individuals'), series))).toContain('correlated');
  });
});

describe('also told', () => {
  const normal = normalNumbers(9);

  test('means that differ by more than what varies within subgroups explains', () => {
    const series = row(Array.from({ length: 30 }, () => {
      const level = 3 * normal();
      return Array.from({ length: 4 }, () => level + normal());
    }));
    const advice = advised(design('mean-deviation'), series);
    expect(codes(advice)).toEqual(['between']);
    expect(advice.better.map(({ chart }) => chart)).toEqual(['between-within']);
  });

  test('few points, few coils, steps of the gauge, rare counts and signals among the points themselves', () => {
    const few = row([1, 2, 1.5, 2.5, 1.2]);
    expect(codes(advised(design('individuals'), few, { coils: 1, signalling: 2 }))).toEqual(['few-points', 'few-stretches', 'signals-left']);
    const steps = row(Array.from({ length: 30 }, (_, index) => (index % 7 === 0 ? 1 : 0)));
    expect(codes(advised(design('individuals'), steps))).toContain('coarse-readings');
    expect(codes(advised(design('u'), counts(Array.from({ length: 25 }, (_, index) => [index % 5 === 0 ? 1 : 0, 100]))))).toEqual(['rare']);
  });
});

test('residuals of values that hardly leave the one before are told to hide a drift, which hardly signals on them', () => {
  const normal = normalNumbers(17);
  const wandering = correlatedValues(normal, 0.97, 400);
  const limits = trialLimits(design('residuals'), row(wandering));
  const told = adviceOn({ design: design('residuals'), limits, series: row(wandering), coils: null, signalling: 0 });
  expect(codes(told)).toEqual(['drift-unseen']);
  // Four of their standard deviations in four hundred steps, beside limits by the long-term spread.
  const drifting = row(wandering.map((value, index) => value + (4 * index) / 400));
  const levels = charted(design('long-term'), trialLimits(design('long-term'), row(wandering)), drifting).signals.length;
  expect(levels).toBeGreaterThan(60);
  expect(charted(design('residuals'), limits, drifting).signals.length).toBeLessThan(levels / 10);
  expect(codes(adviceOn({ design: design('residuals'), limits: { chart: 'residuals', mean: 0, phi: 0.9, sigma: 1 }, series: row(wandering), coils: null, signalling: 0 }))).toEqual([]);
  expect(adviceOn({ design: design('residuals'), limits: { chart: 'residuals', mean: 0, phi: 1.01, sigma: 1 }, series: row(wandering), coils: null, signalling: 0 }).warnings[0]?.text).toContain('with 0.0 % of it after');
});

test('of few points neither steps of a gauge nor spread between subgroups are made out', () => {
  const far = (count: number): number[] => Array.from({ length: count }, (_, index) => index % 2);
  const coarse = (count: number): string[] => codes(adviceOn({ design: design('individuals'), limits: { chart: 'individuals', mean: 0.5, sigma: 0.3 }, series: row(far(count)), coils: null, signalling: 0 }));
  expect([coarse(2), coarse(19), coarse(20)].map((found) => found.includes('coarse-readings'))).toEqual([false, false, true]);
  const between = (count: number): string[] => codes(adviceOn({ design: design('mean-range'), limits: { chart: 'mean-range', mean: 0.5, sigma: 0.1 }, series: row(far(count).map((one) => [one, one + 0.01])), coils: null, signalling: 0 }));
  expect([between(2), between(19), between(20)].map((found) => found.includes('between'))).toEqual([false, false, true]);
});

test('few are told as few by what the limits come from: batches, and pairs of neighbours where the spread is theirs', () => {
  const drawn = normalNumbers(3);
  const values = Array.from({ length: 40 }, () => drawn());
  const told = (one: ChartDesign, begins: readonly number[] = []): string[] => advised(one, row(values, begins)).warnings.filter(({ code }) => code === 'few-points').map(({ text }) => text);
  const all = values.map((_, index) => index);
  const usual = 'at least 20 points are usual (common practice, no published source).';
  expect(told(design('individuals'))).toEqual([]);
  expect(told(design('individuals'), all.filter((index) => index !== 5 && index !== 6))).toEqual([`Limits from only 2 pairs of neighbours among 40 points are uncertain; ${usual}`]);
  expect(told(design('long-term'), all)).toEqual([]);
  const counted = (begins: readonly number[]): string[] => codes(advised(design('adjusted-u'), counts(values.map((_, index) => [20 + (index % 7), 100]), begins)));
  expect([counted([]), counted(all.filter((index) => index !== 5 && index !== 6))]).toEqual([[], ['few-points']]);
  expect(told(design('batch-means', { batchSize: 10 }))).toEqual([`Limits from 4 batches are uncertain; ${usual}`]);
  expect(told(design('batch-means', { batchSize: 2 }))).toEqual([]);
});

test('a batch is as long as its means need to be independent: by the covariance of two sums', () => {
  // By hand at φ = 0.5: ρ(1) = 0.5; ρ(2) = 0.28125/(2 × 0.75 − 0.75) = 0.375; ρ(b) → 1/(1.5 b − 2).
  const rho = (phi: number, size: number): number => {
    let [sum, across] = [0, 0];
    for (let i = 0; i < size; i += 1) for (let j = 0; j < size; j += 1) [sum, across] = [sum + phi ** Math.abs(i - j), across + phi ** (size + j - i)];
    return across / sum;
  };
  for (const phi of [0.1, 0.3, 0.5, 0.7, 0.9]) {
    const size = batchSizeFor(phi) ?? NaN;
    expect(rho(phi, size)).toBeLessThan(0.1);
    if (size > 1) expect(rho(phi, size - 1)).toBeGreaterThanOrEqual(0.1);
  }
  expect([batchSizeFor(0), batchSizeFor(0.999_99)]).toEqual([1, null]);
});

test('points lie as far apart as it takes for the φ^k of their process to be below 0.1', () => {
  // By hand: 0.5³ = 0.125 and 0.5⁴ = 0.0625; 0.9²¹ = 0.1094 and 0.9²² = 0.0985. Of ln 0.1 = −2.302585 the thousandth part is that of φ = 0.99770.
  expect([0, 0.0999, 0.1, 0.5, 0.9, 0.9976, 0.9978].map(spacingFor)).toEqual([1, 1, 2, 4, 22, 959, null]);
  expect(() => spacingFor(1)).toThrow(RangeError);
  expect(() => spacingFor(-0.1)).toThrow(RangeError);
});
