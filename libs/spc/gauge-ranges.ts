import { ratio, times, toNumber } from '#libs/exact';
import { component, type VarianceComponent } from './gauge-components.js';
import type { GaugeLayout } from './gauge-layout.js';
import { meanRelativeRange, rootMeanSquareRelativeRange } from './relative-range.js';

/** Factors that turn a range into a standard deviation. */
export interface RangeFactors {
  /** For the mean of many ranges over the trials, 1/d2. */
  readonly k1: number;
  /** For the one range of the appraisers' means, 1/d2*; null with one appraiser. */
  readonly k2: number | null;
  /** For the one range of the parts' means, 1/d2*. */
  readonly k3: number;
}

/** The figures of the average and range method, in the unit of the readings. */
export interface GaugeRanges {
  /** In the order of the appraisers. */
  readonly meanRanges: readonly number[];
  readonly meanRange: number;
  readonly appraiserMeans: readonly number[];
  readonly rangeOfAppraiserMeans: number;
  readonly rangeOfPartMeans: number;
  readonly factors: RangeFactors;
  readonly components: {
    readonly repeatability: VarianceComponent;
    readonly appraiser: VarianceComponent | null;
    readonly part: VarianceComponent;
  };
}

/**
 * The factors from their definitions: k1 = 1/d2 of the trials, as for a large number of ranges; k2 and k3 = 1/d2* of the
 * appraisers and of the parts, for a single range. Forms print them to four decimals, as 0.5908, 0.5231 and 0.3146 for 3 trials,
 * 3 appraisers and 10 parts. AIAG, Measurement Systems Analysis, 4th ed. (2010), Figure III-B 16 and Appendix C, from memory.
 */
export function rangeFactors(parts: number, appraisers: number, trials: number): RangeFactors {
  return {
    k1: 1 / meanRelativeRange(trials),
    k2: appraisers === 1 ? null : 1 / rootMeanSquareRelativeRange(appraisers),
    k3: 1 / rootMeanSquareRelativeRange(parts),
  };
}

/**
 * The average and range method, which knows no interaction. With R̄ the mean range over the trials, X the range of the
 * appraisers' means, Rp that of the parts' means, p parts and n trials:
 *
 *     EV = R̄ k1    AV² = (X k2)² − EV²/(pn)    PV = Rp k3
 *
 * AIAG, Measurement Systems Analysis, 4th ed. (2010), chapter III section B.
 * Throws RangeError when a factor is not above 0 or k2 is missing for several appraisers.
 */
export function gaugeRanges({ parts, appraisers, trials, cells, unit }: GaugeLayout, given?: RangeFactors): GaugeRanges {
  const factors = given ?? rangeFactors(parts.length, appraisers.length, trials.length);
  const hasOne = appraisers.length === 1;
  for (const factor of [factors.k1, hasOne ? 1 : factors.k2, factors.k3]) demandFactor(factor);
  const mean = (sum: bigint, count: number): number => toNumber(times(unit, ratio(sum, BigInt(count))));
  const [perAppraiser, perPart] = [parts.length * trials.length, appraisers.length * trials.length];
  const rows = appraisers.map((_, index) => cells.map((row) => row[index] ?? []));
  const appraiserTotals = rows.map((row) => total(row.flat()));
  const meanRange = mean(total(cells.flat().map(range)), parts.length * appraisers.length);
  const rangeOfAppraiserMeans = mean(range(appraiserTotals), perAppraiser);
  const rangeOfPartMeans = mean(range(cells.map((row) => total(row.flat()))), perPart);
  const repeatability = (meanRange * factors.k1) ** 2;
  const appraiser = (rangeOfAppraiserMeans * (factors.k2 ?? 0)) ** 2 - repeatability / perAppraiser;
  return {
    meanRanges: rows.map((row) => mean(total(row.map(range)), parts.length)), meanRange,
    appraiserMeans: appraiserTotals.map((sum) => mean(sum, perAppraiser)), rangeOfAppraiserMeans, rangeOfPartMeans,
    factors: hasOne ? { ...factors, k2: null } : factors,
    components: {
      repeatability: component(repeatability, ''),
      appraiser: hasOne ? null : component(appraiser, WITHIN_REPEATABILITY),
      part: component((rangeOfPartMeans * factors.k3) ** 2, ''),
    },
  };
}

const WITHIN_REPEATABILITY = 'the appraisers differ by less than repeatability alone would make them, which makes the estimate ' +
  'negative; a variance is not, and 0 stands for it';

function demandFactor(factor: number | null): void {
  if (factor === null || !(factor > 0 && factor < Infinity)) throw new RangeError(`not a factor for ranges: ${String(factor)}`);
}

const total = (values: readonly bigint[]): bigint => values.reduce((sum, value) => sum + value, 0n);

function range(values: readonly bigint[]): bigint {
  const least = values.reduce((one, other) => (other < one ? other : one));
  const greatest = values.reduce((one, other) => (other > one ? other : one));
  return greatest - least;
}
