import { compare, decimal } from '#libs/exact';
import type { Look } from './look.js';

/** How a later look compares with an earlier one by the same method. */
export type Likeness = 'as-sensitive' | 'less-sensitive' | 'not-comparable' | 'not-stated';

/**
 * Sizes compare within one kind of reflector. Where neither look states a size, one technique in one revision is as
 * sensitive as itself; nothing else can be said then. Common practice, no published source.
 */
export function compareSensitivity(later: Pick<Look, 'technique' | 'sensitivity'>, earlier: Pick<Look, 'technique' | 'sensitivity'>): Likeness {
  const [now, then] = [later.sensitivity, earlier.sensitivity];
  if (now === null && then === null) return later.technique === earlier.technique ? 'as-sensitive' : 'not-stated';
  if (now === null || then === null) return 'not-stated';
  if (now.reflector !== then.reflector) return 'not-comparable';
  return compare(decimal(now.sizeMm), decimal(then.sizeMm)) <= 0 ? 'as-sensitive' : 'less-sensitive';
}
