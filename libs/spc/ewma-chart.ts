import { type ChartPoint, demandSpread } from './control-chart.js';

/** What an EWMA chart is laid out by; target and standard deviation in the unit of the values. */
export interface EwmaDesign {
  readonly target: number;
  /** The standard deviation of one value, or of one mean where means are charted. */
  readonly sigma: number;
  /** The weight of the newest value, above 0 and at most 1. */
  readonly lambda: number;
  /** Half the width of the limits in standard deviations of the average, as 3 or 2.7. */
  readonly width: number;
}

export interface EwmaOptions {
  /** Exact limits of each point, which are narrower at first, or those that they come to in the end; exact if not given. */
  readonly limits?: 'exact' | 'final';
  /** Points before which something else began, as after a splice or a stop: the average starts from the target again. */
  readonly beginsAnew?: readonly number[];
}

/**
 * The exponentially weighted moving average z = λ x + (1 − λ) z' from the target on, with the limits
 *
 *     target ± L σ √( λ/(2 − λ) (1 − (1 − λ)^(2t)) )
 *
 * of the t-th value since the start (S. W. Roberts, Technometrics 1, 1959, 239-250; Lucas and Saccucci, Technometrics 32, 1990,
 * 1-12); without the last bracket for limits of `final`. Throws RangeError when a value or the target is not finite, σ or the
 * width is not above 0, or λ is not above 0 and at most 1.
 */
export function ewmaPoints(values: readonly number[], design: EwmaDesign, { limits = 'exact', beginsAnew = [] }: EwmaOptions = {}): ChartPoint[] {
  demandDesign(design);
  const { target, sigma, lambda, width } = design;
  const begins = new Set(beginsAnew);
  let [average, t] = [target, 0];
  return values.map((value, index) => {
    if (!Number.isFinite(value)) throw new RangeError(`not a finite value: ${value}`);
    if (begins.has(index + 1)) [average, t] = [target, 0];
    t += 1;
    average = lambda * value + (1 - lambda) * average;
    // 1 − (1 − λ)^(2t), which a small λ would round away.
    const share = limits === 'final' ? 1 : -Math.expm1(2 * t * Math.log1p(-lambda));
    const standardError = sigma * Math.sqrt((lambda / (2 - lambda)) * share);
    const half = width * standardError;
    return { point: index + 1, value: average, centre: target, standardError, lower: target - half, upper: target + half, leftOut: null };
  });
}

function demandDesign({ target, sigma, lambda, width }: EwmaDesign): void {
  demandSpread(sigma, 'the values');
  if (!Number.isFinite(target)) throw new RangeError(`not a finite target: ${target}`);
  if (!(lambda > 0 && lambda <= 1)) throw new RangeError(`not a weight above 0 and at most 1: ${lambda}`);
  if (!(width > 0 && width < Infinity)) throw new RangeError(`not a width of limits: ${width}`);
}
