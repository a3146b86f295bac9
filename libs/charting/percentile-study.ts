import {
  andersonDarling, bestBoxCox, boxCox, LEAST_FOR_PERCENTILES, percentileCapability, referencePercentiles, summaryOf, transformedPercentiles, type PercentileCapability, type ReferencePercentiles, type SpecificationLimits,
} from '#libs/spc';

/** Below it a normal distribution is taken not to fit. */
export const LEAST_P = 0.05;

/** Indices without a normal distribution: by percentiles, and how these were found. */
export interface ByPercentiles extends PercentileCapability {
  readonly percentiles: ReferencePercentiles;
  readonly method: string;
}

/** They, or why there are none: a sentence without its full stop. */
export type PercentileStudy = { readonly found: ByPercentiles } | { readonly noneBecause: string };

/** By the readings themselves where they are enough, else by a power that makes them normal. Throws RangeError with fewer than 8 readings, or without a limit. */
export function percentileStudy(values: readonly number[], limits: SpecificationLimits): PercentileStudy {
  const own = referencePercentiles(values);
  if (own !== null) return rising(own, limits, 'the readings themselves') ?? { noneBecause: 'those of the readings themselves fall together' };
  const tooFew = `the readings themselves have none below ${LEAST_FOR_PERCENTILES}, and these are ${values.length}`;
  if (!values.every((value) => value > 0)) return { noneBecause: `${tooFew}; a power, which might make them normal, takes readings above 0` };
  const lambda = powerOf(values);
  if (lambda === null) return { noneBecause: `${tooFew}; and no power makes these normal` };
  const { mean, standardDeviation } = summaryOf(values.map((value) => boxCox(value, lambda)));
  const percentiles = transformedPercentiles(lambda, mean, standardDeviation ?? NaN);
  const power = `to the power of ${lambda.toFixed(2)}`;
  return (percentiles === null ? null : rising(percentiles, limits, `readings ${power}, which a normal distribution fits`))
    ?? { noneBecause: `${tooFew}; and ${power} they are normal, but three standard deviations out there is no reading that it comes from` };
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

const rising = (percentiles: ReferencePercentiles, limits: SpecificationLimits, method: string): { readonly found: ByPercentiles } | null =>
  (percentiles.low < percentiles.median && percentiles.median < percentiles.high ? { found: { ...percentileCapability(percentiles, limits), percentiles, method } } : null);
