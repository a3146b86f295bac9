import type { DerivedValue, Deriver } from './derivation.js';
import { elementSums } from './element-sum.js';
import type { Requirement } from './requirement.js';
import type { SourcedValue } from './sourced-value.js';
import { yieldRatios } from './yield-ratio.js';

export type { DerivedValue, Deriver } from './derivation.js';

const NOTHING_FOLLOWS: Deriver = { uses: () => false, from: () => [], isClosedByReport: false };

/**
 * What gives the values of a requirement that follow from reported ones: carbon equivalents and sums of elements from
 * analyses of the kind it names, the yield ratio from the strengths of one test. It remembers its answers by content.
 */
export function deriver({ characteristic, analysis }: Requirement): Deriver {
  if (characteristic === 'Y/T') return yieldRatios();
  return elementSums(characteristic, analysis) ?? NOTHING_FOLLOWS;
}

/** The derived values of one requirement, once. */
export function derivedValues(requirement: Requirement, values: readonly SourcedValue[]): readonly DerivedValue[] {
  const { uses, from } = deriver(requirement);
  return from(values.filter(uses));
}
