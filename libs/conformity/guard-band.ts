import { minus, plus } from '#libs/exact';
import type { Ratio } from '#libs/exact';
import type { ConformityRules } from './requirement.js';
import { closedZone, type Zone } from './zone.js';

/** Where a value conforms, and where it is not rejected; what lies in the second but not in the first is the guard band. */
export interface DecisionZones {
  /** Null when the guard band is not known. */
  readonly acceptance: Zone | null;
  readonly tolerance: Zone;
}

/**
 * The zones of a decision rule for the limits `min` and `max` and a guard band of width `w` on both sides of each. With w not
 * known (null) there is no zone to accept in, and none at all where rejection rests on w as well.
 * - Simple acceptance (JCGM 106:2012 8.2): the tolerance interval itself; there is no guard band.
 * - Guarded acceptance (JCGM 106:2012 8.3.2): accepted inside the limits less w; rejected beyond the limits, whatever w is, as
 *   no acceptance interval reaches past the limits. In between is our own third answer, where 8.3.2 rejects as well.
 * - Proof of conformity (ISO 14253-1): conformity is proved inside the limits less w, non-conformity beyond the limits
 *   and w more. The edition of 1998 has w = U; that of 2017 1.65 u by default, which is r = 0.83.
 */
export function decisionZones(min: Ratio | null, max: Ratio | null, w: Ratio | null, decision: ConformityRules['decision']): DecisionZones | null {
  const limits = closedZone(min, max);
  if (w === null) return decision === 'guarded-acceptance' ? { acceptance: null, tolerance: limits } : null;
  const inner = closedZone(min && plus(min, w), max && minus(max, w));
  const outer = closedZone(min && minus(min, w), max && plus(max, w));
  switch (decision) {
    case 'simple-acceptance':
      return { acceptance: limits, tolerance: limits };
    case 'guarded-acceptance':
      return { acceptance: inner, tolerance: limits };
    case 'proof-of-conformity':
      return { acceptance: inner, tolerance: outer };
  }
}
