import { capabilityIndices, cpInterval, cpkInterval, overallCapability, ppkInterval, targetIndices, type Interval, type OverallCapability, type SpecificationLimits } from '#libs/spc';

/**
 * Indices of readings that resemble each other: the figures are of all readings, the 95 % intervals of as many independent ones.
 * Of how many is told by the mean (`effectiveCount`). A spread is told by more of them, n (1 − φ²)/(1 + φ²) for many (from memory),
 * so that intervals of what goes by a spread alone are rather too wide than too narrow. Our own choice. There is none with fewer than
 * 2 independent readings.
 */
export interface StudiedIndex {
  readonly value: number;
  readonly interval: Interval | null;
}

/** Pp and Ppk of all readings. */
export interface StudiedPerformance extends Omit<OverallCapability, 'ppkInterval'> {
  /** Null also without Pp. */
  readonly ppInterval: Interval | null;
  readonly ppkInterval: Interval | null;
}

/** Cp and Cpk by the spread within subgroups. */
export interface StudiedWithin extends Pooled {
  /** Null with a limit on one side only. */
  readonly cp: StudiedIndex | null;
  readonly cpk: StudiedIndex;
}

export interface StudiedAboutTarget {
  readonly cpm: StudiedIndex;
  readonly cpmk: number;
}

/** Readings in figures. */
export interface StudiedReadings {
  readonly n: number;
  readonly mean: number;
  readonly standardDeviation: number;
  /** As many independent readings, a whole number of at most n. */
  readonly independent: number;
}

/** The standard deviation within subgroups, and its degrees of freedom. */
export interface Pooled {
  readonly standardDeviation: number;
  readonly degreesOfFreedom: number;
}

const LEAST_INDEPENDENT = 2;

/** Throws RangeError as `overallCapability`. */
export function overallOf({ independent, ...readings }: StudiedReadings, limits: SpecificationLimits): StudiedPerformance {
  const { pp, ppkLower, ppkUpper, ppk } = overallCapability(readings, limits);
  const isEnough = independent >= LEAST_INDEPENDENT;
  return {
    pp, ppkLower, ppkUpper, ppk,
    ppInterval: pp === null || !isEnough ? null : cpInterval(pp, independent - 1), ppkInterval: isEnough ? ppkInterval(ppk, independent) : null,
  };
}

/**
 * The degrees of freedom of their intervals are the pooled ones times the share of readings that is independent, never more than the
 * pooled ones: what makes neighbours alike takes from what each subgroup tells of its spread no less than from what all tell of the
 * mean. Our own choice. No interval with less than one of them. Throws RangeError as `capabilityIndices`.
 */
export function withinOf(pooled: Pooled, { n, mean, independent }: StudiedReadings, limits: SpecificationLimits): StudiedWithin {
  const { cp, cpk } = capabilityIndices({ ...pooled, n, mean }, limits);
  const degreesOfFreedom = pooled.degreesOfFreedom * (independent / n);
  const isEnough = independent >= LEAST_INDEPENDENT && degreesOfFreedom >= 1;
  return {
    ...pooled, cp: cp === null ? null : { value: cp.value, interval: isEnough ? cpInterval(cp.value, degreesOfFreedom) : null },
    cpk: { value: cpk.value, interval: isEnough ? cpkInterval(cpk.value, { n: independent, degreesOfFreedom }) : null },
  };
}

/** Throws RangeError as `targetIndices`. */
export function aboutTargetOf({ n, mean, standardDeviation, independent }: StudiedReadings, limits: SpecificationLimits, target: number): StudiedAboutTarget {
  const of = (count: number): ReturnType<typeof targetIndices> => targetIndices({ n: count, mean, standardDeviation, degreesOfFreedom: count - 1 }, limits, target);
  const { cpm, cpmk } = of(n);
  return { cpm: { value: cpm.value, interval: independent >= LEAST_INDEPENDENT ? of(independent).cpm.interval : null }, cpmk };
}
