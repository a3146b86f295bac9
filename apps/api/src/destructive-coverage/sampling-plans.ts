import type { SamplingPlan } from '#libs/tube-tests';
import type { TestKind } from '../destructive-tests/destructive-test.dto.js';

/**
 * Where samples are demanded until the project's specification says so itself: flattening and flaring at both ends of each
 * coil's pipe. The other tests have no frequency here: nothing is guessed.
 */
export const STARTING_PLANS: readonly (SamplingPlan & { readonly test: TestKind })[] = [
  { test: 'flattening', rules: [{ rule: 'coil-ends' }] },
  { test: 'flaring', rules: [{ rule: 'coil-ends' }] },
];

export const PLAN_CAUTION =
  'The frequency is a starting value; the project\'s specification decides. Samples of a test that has no frequency here stand for nothing, '
  + 'a coupon for its splice alone.';

/** Our own choice. */
export const COUPON_RULE = {
  rule: 'coupon', words: 'A coupon of a splice stands for that splice alone, and for none of the coils\' pipe.', source: 'our own choice',
} as const;
