import {
  andersonDarling, bestBoxCox, boxCox, capabilityIndices, effectiveCount, overallCapability, percentileCapability, ppkInterval, referencePercentiles, summaryOf, targetIndices, transformedPercentiles,
  type CapabilityIndices, type NormalityTest, type OverallCapability, type PercentileCapability, type ReferencePercentiles, type SpecificationLimits, type TargetIndices,
} from '#libs/spc';
import { lagOneOf, type LagOne } from './lag-one.js';
import type { SeriesPoint } from './series.js';

/** How the spread of readings compares with what is specified, with all that says how far to trust it. */
export interface CapabilityStudy {
  readonly readings: number;
  readonly mean: number;
  readonly standardDeviation: number;
  /** Of readings in their order; null where they are too few. */
  readonly lagOne: LagOne | null;
  /** As many independent readings say as much of the mean; what intervals are taken with. */
  readonly independentReadings: number;
  /** Pp and Ppk, with the interval that as many independent readings leave. */
  readonly overall: OverallCapability;
  /** Cp and Cpk by the standard deviation within subgroups; null where there are none. */
  readonly within: CapabilityIndices | null;
  /** Cpm and Cpmk; null without a target or a limit on each side. */
  readonly aboutTarget: TargetIndices | null;
  /** Null with fewer than 8 readings. */
  readonly normality: NormalityTest | null;
  /** Where a normal distribution does not fit: by percentiles, and how they were found; null where it does, or none can be found. */
  readonly byPercentiles: (PercentileCapability & { readonly percentiles: ReferencePercentiles; readonly method: string }) | null;
}

export interface StudiedLimits extends SpecificationLimits {
  readonly target: number | null;
}

/** Below it a normal distribution is taken not to fit. */
const LEAST_P = 0.05;

/**
 * The study of all readings of a row, by the functions of libs/spc, which name their sources. It says nothing of whether the
 * process was in control: that its points did not signal has to be said beside it. Throws RangeError with fewer than 2
 * readings, when they do not vary, or without a limit.
 */
export function capabilityStudy(series: readonly SeriesPoint[], limits: StudiedLimits): CapabilityStudy {
  const values = series.flatMap((point) => point.values);
  const begins = series.flatMap(({ values: of, beginsAnew }) => of.map((_, index) => ({ beginsAnew: beginsAnew && index === 0 })));
  const { n, mean, standardDeviation } = summaryOf(values);
  const overall = overallCapability({ n, mean, standardDeviation }, limits);
  const s = standardDeviation ?? NaN;
  const lagOne = lagOneOf(values, begins);
  const independentReadings = lagOne === null || lagOne.phi <= 0 ? n : Math.max(2, effectiveCount(n, Math.min(lagOne.phi, 1 - 1e-9)));
  const normality = n >= 8 ? andersonDarling(values) : null;
  return {
    readings: n, mean, standardDeviation: s, lagOne, independentReadings,
    overall: { ...overall, ppkInterval: ppkInterval(overall.ppk, Math.floor(independentReadings)) },
    within: withinStudy(series, { n, mean }, limits),
    aboutTarget: limits.target === null || limits.lower === null || limits.upper === null ? null : targetIndices({ n, mean, standardDeviation: s, degreesOfFreedom: n - 1 }, limits, limits.target),
    normality, byPercentiles: normality !== null && normality.p < LEAST_P ? percentileStudy(values, limits) : null,
  };
}

/** By the pooled standard deviation of subgroups of two readings and more. */
function withinStudy(series: readonly SeriesPoint[], { n, mean }: { readonly n: number; readonly mean: number }, limits: SpecificationLimits): CapabilityIndices | null {
  const groups = series.filter(({ values }) => values.length > 1).map(({ values }) => summaryOf(values));
  const degreesOfFreedom = groups.reduce((sum, group) => sum + group.n - 1, 0);
  const squares = groups.reduce((sum, group) => sum + (group.n - 1) * (group.standardDeviation ?? NaN) ** 2, 0);
  return degreesOfFreedom === 0 || squares === 0 ? null : capabilityIndices({ n, mean, standardDeviation: Math.sqrt(squares / degreesOfFreedom), degreesOfFreedom }, limits);
}

function percentileStudy(values: readonly number[], limits: SpecificationLimits): CapabilityStudy['byPercentiles'] {
  const own = referencePercentiles(values);
  if (own !== null) return rising(own, limits, 'the readings themselves');
  if (!values.every((value) => value > 0)) return null;
  const transformation = powerOf(values);
  if (transformation === null) return null;
  const { mean, standardDeviation } = summaryOf(values.map((value) => boxCox(value, transformation)));
  const percentiles = transformedPercentiles(transformation, mean, standardDeviation ?? NaN);
  return percentiles === null ? null : rising(percentiles, limits, `readings to the power of ${transformation.toFixed(2)}, which a normal distribution fits`);
}

/** The power that makes the values normal; null where none does. */
function powerOf(values: readonly number[]): number | null {
  try {
    const { lambda } = bestBoxCox(values);
    return andersonDarling(values.map((value) => boxCox(value, lambda))).p >= LEAST_P ? lambda : null;
  } catch (error) {
    // The likelihood rises without end: no power of this range is best.
    if (error instanceof RangeError) return null;
    throw error;
  }
}

const rising = (percentiles: ReferencePercentiles, limits: SpecificationLimits, method: string): CapabilityStudy['byPercentiles'] =>
  (percentiles.low < percentiles.median && percentiles.median < percentiles.high ? { ...percentileCapability(percentiles, limits), percentiles, method } : null);
