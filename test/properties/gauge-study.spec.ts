import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { over, type Ratio, ratio, toNumber } from '#libs/exact';
import {
  type GaugeFigure, type GaugeFigures, type GaugeReading, type GaugeStudy, gaugeStudy, oneAppraiserStudy, type RangeFactors,
} from '#libs/spc';
import { seedFromEnvironment } from '../setup/seed.js';
import { type Cells, componentsBySquares, meanOf, rangeOf, sumsByDeviations } from './gauge-study.reference.js';

const PARAMETERS = { ...seedFromEnvironment(), numRuns: 200 };

/** Reading by reading from a few values or many; with effects of parts and appraisers or without. */
const cells: fc.Arbitrary<Cells> = fc.tuple(
  fc.integer({ min: 2, max: 6 }), fc.integer({ min: 2, max: 4 }), fc.integer({ min: 2, max: 4 }),
  fc.constantFrom(0, 1, 3, 100, 100_000), fc.constantFrom(0, 1, 50),
).chain(([p, a, n, spread, effect]) => fc.tuple(
  fc.array(fc.integer({ min: -20 * effect, max: 20 * effect }), { minLength: p, maxLength: p }),
  fc.array(fc.integer({ min: -effect, max: effect }), { minLength: a, maxLength: a }),
  fc.array(fc.integer({ min: -spread, max: spread }), { minLength: p * a * n, maxLength: p * a * n }),
).map(([ofPart, ofAppraiser, noise]) =>
  ofPart.map((part, i) => ofAppraiser.map((appraiser, j) =>
    Array.from({ length: n }, (_, k) => BigInt(part + appraiser + noise[(i * a + j) * n + k]!))))));

/** The factors are not what is tested here, and integrals take their time. */
const FACTORS: RangeFactors = { k1: 0.6, k2: 0.55, k3: 0.4 };
const level = fc.double({ min: 0, max: 1, noNaN: true });

describe('gauge studies', () => {
  test('sums of squares, mean squares and F are those of exact arithmetic by their definitions, to the last digit', () => {
    fc.assert(fc.property(cells, (given) => {
      const reference = sumsByDeviations(given);
      const { table } = studyOf(given).anova;
      const means = new Map<string, Ratio>();
      for (const { source, sumOfSquares, meanSquare, degreesOfFreedom } of table) {
        expect([source, sumOfSquares]).toEqual([source, toNumber(reference[source])]);
        means.set(source, over(reference[source], ratio(BigInt(degreesOfFreedom))));
        if (source !== 'total') expect(meanSquare).toBe(toNumber(means.get(source)!));
      }
      for (const { source, testedAgainst, f, p } of table) {
        if (testedAgainst === null || means.get(testedAgainst)!.numerator === 0n) expect([f, p]).toEqual([null, null]);
        else expect(f).toBe(toNumber(over(means.get(source)!, means.get(testedAgainst)!)));
        if (p !== null) expect(p >= 0 && p <= 1).toBe(true);
      }
      expect(table.map(({ degreesOfFreedom }) => degreesOfFreedom).reduce((sum, one) => sum + one)).toBe(2 * (given.flat(2).length - 1));
    }), PARAMETERS);
  });

  test('variance components are those of the random model, and what is used of them is never below 0', () => {
    fc.assert(fc.property(cells, level, (given, poolAbovePValue) => {
      const { pooling, components, figures } = studyOf(given, { poolAbovePValue }).anova;
      const sums = sumsByDeviations(given);
      expect(pooling!.isPooled).toBe(pooling!.p === null ? sums.interaction.numerator === 0n : pooling!.p > poolAbovePValue);
      const reference = componentsBySquares(given, sums, pooling!.isPooled);
      for (const source of ['part', 'appraiser', 'interaction', 'repeatability'] as const) {
        const found = components[source];
        if (source === 'interaction' && pooling!.isPooled) {
          expect(found).toBeNull();
          continue;
        }
        const estimate = toNumber(reference[source]);
        expect(found).toMatchObject({ estimate, variance: Math.max(estimate, 0), isSetToZero: estimate < 0 });
        expect(found!.note === null).toBe(estimate >= 0);
      }
      for (const { variance } of figuresOf(figures)) expect(variance).toBeGreaterThanOrEqual(0);
    }), PARAMETERS);
  });

  test('ranges and means of the average and range method are exact too', () => {
    fc.assert(fc.property(cells, (given) => {
      const { averageRange } = studyOf(given);
      const ranges = given.map((row) => row.map((cell) => rangeOf(cell.map((value) => ratio(value))).numerator));
      const appraiserMeans = given[0]!.map((_, j) => meanOf(given.flatMap((row) => row[j]!)));
      expect(averageRange.meanRange).toBe(toNumber(meanOf(ranges.flat())));
      expect(averageRange.meanRanges).toEqual(given[0]!.map((_, j) => toNumber(meanOf(ranges.map((row) => row[j]!)))));
      expect(averageRange.appraiserMeans).toEqual(appraiserMeans.map(toNumber));
      expect(averageRange.rangeOfAppraiserMeans).toBe(toNumber(rangeOf(appraiserMeans)));
      expect(averageRange.rangeOfPartMeans).toBe(toNumber(rangeOf(given.map((row) => meanOf(row.flat())))));
      for (const { variance } of figuresOf(averageRange.figures)) expect(variance).toBeGreaterThanOrEqual(0);
    }), PARAMETERS);
  });

  test('contributions add up, and gauge and parts to the total', () => {
    fc.assert(fc.property(cells, (given) => {
      const study = studyOf(given);
      for (const { figures: { gauge, part, total, repeatability, reproducibility }, distinctCategories } of [study.anova, study.averageRange]) {
        expect(gauge.variance).toBe(repeatability.variance + reproducibility!.variance);
        expect(total.variance).toBe(gauge.variance + part.variance);
        if (total.variance === 0) {
          expect([gauge.percentContribution, part.percentStudyVariation, distinctCategories.count]).toEqual([null, null, 1]);
          continue;
        }
        expect(gauge.percentContribution! + part.percentContribution!).toBeCloseTo(100, 10);
        expect(gauge.percentStudyVariation! ** 2 + part.percentStudyVariation! ** 2).toBeCloseTo(10_000, 8);
        if (gauge.variance > 0) expect(distinctCategories.count).toBeGreaterThanOrEqual(1);
      }
    }), PARAMETERS);
  });

  test('adding a constant, however large, changes nothing but the means', () => {
    fc.assert(fc.property(cells, fc.bigInt({ min: -(10n ** 25n), max: 10n ** 25n }), (given, constant) => {
      const moved = given.map((row) => row.map((cell) => cell.map((value) => value + constant)));
      expect(withoutMeans(studyOf(moved))).toEqual(withoutMeans(studyOf(given)));
    }), PARAMETERS);
  });

  test('another unit scales variances by its square, and leaves F, p, percentages and verdicts alone', () => {
    fc.assert(fc.property(cells, fc.bigInt({ min: 1n, max: 1000n }), fc.integer({ min: 0, max: 9 }), (given, factor, decimals) => {
      const scale = Number(factor) / 10 ** decimals;
      const scaled = studyOf(given.map((row) => row.map((cell) => cell.map((value) => value * factor))), { decimals, tolerance: 7 * scale });
      const plain = studyOf(given, { tolerance: 7 });
      scaled.anova.table.forEach(({ f, p, sumOfSquares }, index) => {
        const row = plain.anova.table[index]!;
        expect([f, p]).toEqual([row.f, row.p]);
        expectNear(sumOfSquares, row.sumOfSquares * scale * scale);
      });
      expect(scaled.anova.pooling).toEqual(plain.anova.pooling);
      for (const source of ['repeatability', 'reproducibility', 'gauge', 'part', 'total'] as const) {
        const [one, other] = [scaled.anova.figures[source]!, plain.anova.figures[source]!];
        expectNear(one.variance, other.variance * scale * scale);
        expectNear(one.percentStudyVariation ?? -1, other.percentStudyVariation ?? -1);
        expectNear(one.percentTolerance!, other.percentTolerance!);
      }
    }), PARAMETERS);
  });

  test('parts, appraisers and trials may come in any order', () => {
    const order = (most: number): fc.Arbitrary<number[]> =>
      fc.shuffledSubarray(Array.from({ length: most }, (_, index) => index), { minLength: most });
    const orders = fc.tuple(order(6), order(4), order(4));
    fc.assert(fc.property(cells, orders, (given, [parts, appraisers, trials]) => {
      const take = <T>(list: readonly T[], order: readonly number[]): T[] => order.filter((index) => index < list.length).map((index) => list[index]!);
      const permuted = take(given, parts).map((row) => take(row, appraisers).map((cell) => take(cell, trials)));
      const [found, plain] = [studyOf(permuted), studyOf(given)];
      expect(withoutMeans(found)).toEqual({ ...withoutMeans(plain), meanRanges: take(plain.averageRange.meanRanges, appraisers) });
      expect(found.mean).toBe(plain.mean);
    }), PARAMETERS);
  });

  test('identical readings show no gauge variation, and say so', () => {
    const size = fc.integer({ min: 2, max: 6 });
    fc.assert(fc.property(size, size, size, fc.bigInt({ min: -(10n ** 9n), max: 10n ** 9n }), (p, a, n, value) => {
      const given = Array.from({ length: p }, () => Array.from({ length: a }, () => Array<bigint>(n).fill(value)));
      const study = studyOf(given, { decimals: 3, tolerance: 1 });
      for (const { figures, verdicts } of [study.anova, study.averageRange]) {
        expect([figures.gauge.variance, figures.total.variance]).toEqual([0, 0]);
        expect(verdicts.map(({ acceptance }) => acceptance)).toEqual(['undetermined', 'undetermined']);
      }
      expect(study.cautions).toContainEqual(expect.stringMatching(new RegExp(`^All ${p * a * n} readings are identical`)));
    }), PARAMETERS);
  });

  test('a study with one appraiser is that of its own readings', () => {
    fc.assert(fc.property(cells, (given) => {
      const single = given.map((row) => [row[0]!]);
      const { anova, averageRange } = oneAppraiserStudy(readingsOf(single), { factors: FACTORS });
      const { part, repeatability, total } = sumsByDeviations(single);
      expect(anova.table.map(({ sumOfSquares }) => sumOfSquares)).toEqual([part, repeatability, total].map(toNumber));
      expect(anova.figures.gauge).toEqual(anova.figures.repeatability);
      expect(averageRange.figures.gauge).toEqual(averageRange.figures.repeatability);
    }), PARAMETERS);
  });

  test('one reading taken away is named', () => {
    fc.assert(fc.property(cells, fc.nat(), (given, at) => {
      const readings = readingsOf(given);
      const { part, appraiser, trial } = readings[at % readings.length]!;
      expect(() => gaugeStudy(readings.filter((_, index) => index !== at % readings.length)))
        .toThrow(new RangeError(`the study is not balanced; missing: part ${part}, appraiser ${appraiser}, trial ${trial}`));
    }), PARAMETERS);
  });
});

function studyOf(given: Cells, { decimals = 0, ...options }: { decimals?: number; tolerance?: number; poolAbovePValue?: number } = {}): GaugeStudy {
  return gaugeStudy(readingsOf(given, decimals), { factors: FACTORS, ...options });
}

/** Whole numbers of the last of so many decimals, as text. */
function readingsOf(given: Cells, decimals = 0): GaugeReading[] {
  const text = (units: bigint): string => {
    const digits = String(units < 0n ? -units : units).padStart(decimals + 1, '0');
    const [whole, fraction] = [digits.slice(0, digits.length - decimals), digits.slice(digits.length - decimals)];
    return `${units < 0n ? '-' : ''}${whole}${decimals === 0 ? '' : `.${fraction}`}`;
  };
  return given.flatMap((row, part) => row.flatMap((cell, appraiser) => cell.map((units, trial) =>
    ({ part: String(part), appraiser: String(appraiser), trial: trial + 1, value: text(units) }))));
}

const figuresOf = ({ repeatability, reproducibility, gauge, part, total }: GaugeFigures): GaugeFigure[] =>
  [repeatability, reproducibility!, gauge, part, total];

function withoutMeans({ anova, averageRange, cautions }: GaugeStudy): object {
  const { meanRanges, meanRange, rangeOfAppraiserMeans, rangeOfPartMeans, figures, components } = averageRange;
  return { anova, cautions, meanRanges, meanRange, rangeOfAppraiserMeans, rangeOfPartMeans, figures, components };
}

function expectNear(found: number, expected: number): void {
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(1e-12 * Math.abs(expected));
}
