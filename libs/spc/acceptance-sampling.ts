import betaQuantile from '@stdlib/stats-base-dists-beta-quantile';
import binomialCdf from '@stdlib/stats-base-dists-binomial-cdf';
import chiSquareQuantile from '@stdlib/stats-base-dists-chisquare-quantile';
import poissonCdf from '@stdlib/stats-base-dists-poisson-cdf';
import { ratio, toNumber } from '#libs/exact';
import { bracketedRoot } from './bracketed-root.js';

/** A single sampling plan by attributes: of n items at most `acceptance` may be nonconforming, or the lot is not accepted. */
export interface SamplingPlan {
  readonly n: number;
  readonly acceptance: number;
}

/**
 * Items that conform or do not (binomial), or nonconformities of which an item can have several (Poisson). Tables of standards
 * take Poisson for the large samples of both.
 */
export type CountBasis = 'binomial' | 'poisson';

/**
 * The operating characteristic: the probability that a lot from a process with this share of nonconforming items (or this
 * mean number of nonconformities an item) is accepted. NIST/SEMATECH e-Handbook of Statistical Methods, 6.2.3.2; Montgomery,
 * Introduction to Statistical Quality Control, 15.2. The sample is small beside the lot. Throws RangeError when the plan is
 * none, or the share is below 0, or above 1 for binomial.
 */
export function acceptanceProbability(plan: SamplingPlan, share: number, basis: CountBasis = 'binomial'): number {
  demandPlan(plan);
  demandShare(share, basis);
  if (share === 0) return 1;
  return basis === 'binomial' ? binomialCdf(plan.acceptance, plan.n, share) : poissonCdf(plan.acceptance, plan.n * share);
}

/**
 * The same for one lot of N items of which so many do not conform, the sample taken without putting back: the sum of
 * C(D, k) C(N − D, n − k)/C(N, n) up to the acceptance number (hypergeometric; Montgomery, Introduction to Statistical Quality
 * Control, 15.2). In whole numbers, rounded once. Throws RangeError when the plan is none, the lot is smaller than its sample,
 * or the nonconforming items are not a whole number from 0 to N.
 */
export function lotAcceptanceProbability(plan: SamplingPlan, lotSize: number, nonconforming: number): number {
  demandPlan(plan);
  demandLot(plan, lotSize);
  if (!(Number.isSafeInteger(nonconforming) && nonconforming >= 0 && nonconforming <= lotSize)) {
    throw new RangeError(`not a number of nonconforming items of ${lotSize}: ${nonconforming}`);
  }
  const { n, acceptance } = plan;
  const good = lotSize - nonconforming;
  let accepted = 0n;
  for (let count = Math.max(0, n - good); count <= Math.min(acceptance, nonconforming); count++) {
    accepted += waysToTake(count, nonconforming) * waysToTake(n - count, good);
  }
  return toNumber(ratio(accepted, waysToTake(n, lotSize)));
}

/** The binomial coefficient. */
function waysToTake(count: number, of: number): bigint {
  let ways = 1n;
  for (let taken = 1; taken <= count; taken++) ways = (ways * BigInt(of - taken + 1)) / BigInt(taken);
  return ways;
}

/**
 * The share of nonconforming items (or mean number of nonconformities an item) at which a lot is accepted with this
 * probability: the inverse of `acceptanceProbability`, by the quantiles of the beta and the chi-squared distribution. At 0.95
 * it is the quality that a producer gets through, at 0.10 the one that a consumer is protected from. Throws RangeError when
 * the plan is none or the probability is not between 0 and 1.
 */
export function qualityAccepted(plan: SamplingPlan, probability: number, basis: CountBasis = 'binomial'): number {
  demandPlan(plan);
  const { n, acceptance } = plan;
  if (!(probability > 0 && probability < 1)) throw new RangeError(`the probability is not between 0 and 1: ${probability}`);
  if (basis === 'poisson') return chiSquareQuantile(1 - probability, 2 * (acceptance + 1)) / (2 * n);
  return betaQuantile(1 - probability, acceptance + 1, n - acceptance);
}

/** What a plan risks: good lots refused, and bad ones accepted. */
export interface SamplingRisks {
  readonly producer: number;
  readonly consumer: number;
}

/**
 * The producer's risk at the share `good` and the consumer's risk at the share `bad`. Throws RangeError as
 * `acceptanceProbability` does, and when the good share is not below the bad one.
 */
export function samplingRisks(plan: SamplingPlan, good: number, bad: number, basis: CountBasis = 'binomial'): SamplingRisks {
  if (!(good < bad)) throw new RangeError(`the good share is not below the bad one: ${good}, ${bad}`);
  return { producer: 1 - acceptanceProbability(plan, good, basis), consumer: acceptanceProbability(plan, bad, basis) };
}

/** What leaves inspection where every lot that is not accepted is inspected whole, and what that costs. */
export interface RectifyingInspection {
  /** Share of nonconforming items that leaves: p Pa (N − n)/N. */
  readonly outgoingShare: number;
  /** Items inspected a lot in the mean: n + (1 − Pa)(N − n). */
  readonly inspectedItems: number;
}

/**
 * Rectifying inspection of lots of N items, all nonconforming ones found being replaced (NIST/SEMATECH e-Handbook of
 * Statistical Methods, 6.2.3.2). Throws RangeError as `acceptanceProbability` does, and when a lot is smaller than its sample.
 */
export function rectifyingInspection(plan: SamplingPlan, lotSize: number, share: number): RectifyingInspection {
  const accepted = acceptanceProbability(plan, share);
  demandLot(plan, lotSize);
  const rest = lotSize - plan.n;
  return { outgoingShare: (share * accepted * rest) / lotSize, inspectedItems: plan.n + (1 - accepted) * rest };
}

/**
 * The worst share that leaves rectifying inspection of very large lots, whatever comes in: the greatest p Pa(p). It lies where
 * Pa = p n P(exactly c of n − 1 are nonconforming). Throws RangeError when the plan is none.
 */
export function outgoingQualityLimit(plan: SamplingPlan): number {
  const { n, acceptance } = plan;
  const slope = (p: number): number => acceptanceProbability(plan, p) - p * n * exactly(acceptance, n - 1, p);
  // Where one lot of a hundred is accepted, fewer nonconforming items leave than where every second is.
  const worst = bracketedRoot(slope, 0, qualityAccepted(plan, 0.01));
  return worst * acceptanceProbability(plan, worst);
}

/** Of an item-by-item plan: accept where the count is at or below −h1 + s n, reject where it is at or above h2 + s n. */
export interface SequentialPlan {
  readonly h1: number;
  readonly h2: number;
  readonly slope: number;
}

/**
 * The sequential plan that accepts the share `good` but for the producer's risk, and the share `bad` with the consumer's risk:
 * Wald's probability ratio. NIST/SEMATECH e-Handbook of Statistical Methods, 6.2.6. Throws RangeError when the shares do not
 * rise between 0 and 1, or the risks are not above 0 and together below 1.
 */
export function sequentialPlan(good: number, bad: number, { producer, consumer }: SamplingRisks): SequentialPlan {
  if (!(good > 0 && good < bad && bad < 1)) throw new RangeError(`shares do not rise between 0 and 1: ${good}, ${bad}`);
  if (!(producer > 0 && consumer > 0 && producer + consumer < 1)) throw new RangeError(`not risks: ${producer}, ${consumer}`);
  const k = Math.log((bad * (1 - good)) / (good * (1 - bad)));
  return {
    h1: Math.log((1 - producer) / consumer) / k, h2: Math.log((1 - consumer) / producer) / k,
    slope: Math.log((1 - good) / (1 - bad)) / k,
  };
}

function exactly(count: number, n: number, p: number): number {
  return binomialCdf(count, n, p) - (count === 0 ? 0 : binomialCdf(count - 1, n, p));
}

function demandPlan({ n, acceptance }: SamplingPlan): void {
  if (!(Number.isSafeInteger(n) && n >= 1)) throw new RangeError(`not the size of a sample: ${n}`);
  if (!(Number.isSafeInteger(acceptance) && acceptance >= 0 && acceptance < n)) throw new RangeError(`not an acceptance number for ${n} items: ${acceptance}`);
}

function demandShare(share: number, basis: CountBasis): void {
  if (!(share >= 0 && share < Infinity && (basis === 'poisson' || share <= 1))) throw new RangeError(`not a share of nonconforming items: ${share}`);
}

function demandLot({ n }: SamplingPlan, lotSize: number): void {
  if (!(Number.isSafeInteger(lotSize) && lotSize >= n)) throw new RangeError(`a lot is not smaller than its sample of ${n}: ${lotSize}`);
}
