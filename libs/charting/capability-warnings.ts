import type { NormalityTest } from '#libs/spc';
import type { ChartWarning } from './advice.js';
import type { StudiedPerformance, StudiedWithin } from './independent-indices.js';
import { isCorrelated, type LagOne } from './lag-one.js';
import type { PercentileStudy } from './percentile-study.js';

/** What is to be minded of indices. */
export interface IndicesToMind {
  readonly standardDeviation: number;
  readonly lagOne: LagOne | null;
  readonly overall: StudiedPerformance;
  readonly within: StudiedWithin | null;
  readonly normality: NormalityTest | null;
  /** Null where a normal distribution is taken to fit. */
  readonly percentiles: PercentileStudy | null;
}

/** Below it the indices by the normal distribution do not hold. Our own choice: a tenth of what it is taken not to fit at. */
const NOT_NORMAL_BELOW = 0.005;
/** All readings spread so many times as far as those within subgroups; with a mean within the limits Cpk is as many times Ppk. Our own choice. */
const WITHIN_ONLY_ABOVE = 1.5;
/** The approximation of a smaller p-value has no digits that count. Our own choice. */
const LEAST_PRINTED_P = 0.0001;

export function capabilityWarnings(indices: IndicesToMind): ChartWarning[] {
  const notNormal = notNormalWarning(indices);
  return [...notNormal, ...withinOnlyWarning(indices, notNormal.length === 0)];
}

/** What the test of normality takes for granted, and these readings are not; null where they seem independent. */
export const independenceWords = (lagOne: LagOne | null): string | null => (isCorrelated(lagOne)
  ? `The p-value takes the readings for independent. They resemble their neighbours (lag-1 correlation ${lagOne.phi.toFixed(2)}), which makes it too small.` : null);

function notNormalWarning({ normality, percentiles, lagOne }: IndicesToMind): ChartWarning[] {
  if (normality === null || normality.p >= NOT_NORMAL_BELOW || percentiles === null) return [];
  const p = normality.p < LEAST_PRINTED_P ? `below ${LEAST_PRINTED_P}` : `of ${normality.p.toPrecision(2)}`;
  const instead = 'found' in percentiles
    ? `Read those by percentiles instead: Ppk ${percentiles.found.ppk.toPrecision(3)}, without an interval.`
    : `There are none by percentiles: ${percentiles.noneBecause}. Read the least and the greatest reading, and what lies outside, instead.`;
  const independence = independenceWords(lagOne);
  return [{
    code: 'not-normal', text: `A normal distribution does not fit (Anderson and Darling's test, p-value ${p}): Pp, Ppk, Cp, Cpk and Cpm with their intervals are by one, and do not hold. ${instead}${independence === null ? '' : ` ${independence}`}`,
  }];
}

/** Of readings that are not normal Ppk is no better a figure, and what to read instead is said already. */
function withinOnlyWarning({ standardDeviation, within, overall: { ppk, ppkInterval } }: IndicesToMind, isNormal: boolean): ChartWarning[] {
  if (within === null || standardDeviation <= WITHIN_ONLY_ABOVE * within.standardDeviation) return [];
  const interval = ppkInterval === null ? ', for whose interval fewer than 2 readings are independent,' : ' with its interval';
  return [{
    code: 'within-only', text: `Cpk ${within.cpk.value.toPrecision(3)} stands beside Ppk ${ppk.toPrecision(3)}: it leaves out what varies between subgroups, and all that changes over more pipe than one is of.${isNormal ? ` Ppk${interval} is what the pipe shows.` : ''}`,
  }];
}
