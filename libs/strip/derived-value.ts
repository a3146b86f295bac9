import type { DerivedValue } from './derivation.js';
import { elementSums } from './element-sum.js';
import type { Requirement } from './requirement.js';
import type { SourcedValue } from './sourced-value.js';
import { yieldRatios } from './yield-ratio.js';

export type { DerivedValue } from './derivation.js';

const NOTHING: readonly DerivedValue[] = [];

/**
 * What gives the values of a requirement that follow from reported ones: carbon equivalents and sums of elements from
 * analyses of the kind it names, the yield ratio from the strengths of one test. It remembers its answers by content.
 */
export function deriver({ characteristic, analysis }: Requirement): (values: readonly SourcedValue[]) => readonly DerivedValue[] {
  if (characteristic === 'Y/T') return yieldRatios();
  return elementSums(characteristic, analysis) ?? (() => NOTHING);
}

/** The derived values of one requirement, once. */
export function derivedValues(requirement: Requirement, values: readonly SourcedValue[]): readonly DerivedValue[] {
  return deriver(requirement)(values);
}
