import { andersonDarling, effectiveCount, summaryOf, type NormalityTest, type SpecificationLimits } from '#libs/spc';
import type { ChartWarning } from './advice.js';
import { capabilityWarnings, independenceWords } from './capability-warnings.js';
import { aboutTargetOf, overallOf, withinOf, type Pooled, type StudiedAboutTarget, type StudiedPerformance, type StudiedWithin } from './independent-indices.js';
import { lagOneOf, type LagOne } from './lag-one.js';
import { LEAST_P, percentileStudy, type ByPercentiles } from './percentile-study.js';
import type { SeriesPoint } from './series.js';

/** How the spread of readings compares with what is specified, with all that says how far to trust it. */
export interface CapabilityStudy {
  readonly readings: number;
  readonly mean: number;
  readonly standardDeviation: number;
  /** Of readings in their order; null where they are too few. */
  readonly lagOne: LagOne | null;
  /** As many independent readings say as much of the mean; what intervals are taken with, in whole ones. */
  readonly independentReadings: number;
  readonly overall: StudiedPerformance;
  /** By the pooled standard deviation within subgroups; null where there are none. */
  readonly within: StudiedWithin | null;
  /** Cpm and Cpmk; null without a target or a limit on each side. */
  readonly aboutTarget: StudiedAboutTarget | null;
  /** Null with fewer than 8 readings. */
  readonly normality: StudiedNormality | null;
  /** Where a normal distribution does not fit; null where it does, or none can be found. They have no intervals. */
  readonly byPercentiles: ByPercentiles | null;
  readonly warnings: readonly ChartWarning[];
}

export interface StudiedNormality extends NormalityTest {
  /** What the test takes for granted and these readings are not, in words; null where they seem independent. */
  readonly caution: string | null;
}

export interface StudiedLimits extends SpecificationLimits {
  readonly target: number | null;
}

/**
 * The study of all readings of a row, by the functions of libs/spc, which name their sources. It says nothing of whether the
 * process was in control: that its points did not signal has to be said beside it. Throws RangeError with fewer than 2
 * readings, when they do not vary, or without a limit.
 */
export function capabilityStudy(series: readonly SeriesPoint[], limits: StudiedLimits): CapabilityStudy {
  const values = series.flatMap((point) => point.values);
  const begins = series.flatMap(({ values: of, beginsAnew }) => of.map((_, index) => ({ beginsAnew: beginsAnew && index === 0 })));
  const { n, mean, standardDeviation } = summaryOf(values);
  const lagOne = lagOneOf(values, begins);
  const independentReadings = lagOne === null || lagOne.phi <= 0 ? n : effectiveCount(n, Math.min(lagOne.phi, 1 - 1e-9));
  const readings = { n, mean, standardDeviation: standardDeviation ?? NaN, independent: Math.floor(independentReadings) };
  const overall = overallOf(readings, limits);
  const pooled = pooledOf(series);
  const within = pooled === null ? null : withinOf(pooled, readings, limits);
  const normality = n >= 8 ? andersonDarling(values) : null;
  const percentiles = normality !== null && normality.p < LEAST_P ? percentileStudy(values, limits) : null;
  return {
    readings: n, mean, standardDeviation: readings.standardDeviation, lagOne, independentReadings, overall, within,
    aboutTarget: limits.target === null || limits.lower === null || limits.upper === null ? null : aboutTargetOf(readings, limits, limits.target),
    normality: normality === null ? null : { ...normality, caution: independenceWords(lagOne) },
    byPercentiles: percentiles !== null && 'found' in percentiles ? percentiles.found : null,
    warnings: capabilityWarnings({ standardDeviation: readings.standardDeviation, lagOne, overall, within, normality, percentiles }),
  };
}

/** The pooled standard deviation of subgroups of two readings and more; null where there are none, or nothing varies within them. */
function pooledOf(series: readonly SeriesPoint[]): Pooled | null {
  const groups = series.filter(({ values }) => values.length > 1).map(({ values }) => summaryOf(values));
  const degreesOfFreedom = groups.reduce((sum, group) => sum + group.n - 1, 0);
  const squares = groups.reduce((sum, group) => sum + (group.n - 1) * (group.standardDeviation ?? NaN) ** 2, 0);
  return degreesOfFreedom === 0 || squares === 0 ? null : { standardDeviation: Math.sqrt(squares / degreesOfFreedom), degreesOfFreedom };
}
