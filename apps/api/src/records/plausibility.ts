import { createHash } from 'node:crypto';
import type { Mark } from '#libs/persistence';
import { Refused } from '../http/problem.js';

/**
 * The second and third tier of limit. Impossible values never get here: the form of the request refuses them.
 * An implausible value is asked about once; a value out of specification is taken as it is and marked. `noted` is for
 * what nobody can be asked about: it is taken and marked too.
 */
export interface Finding {
  readonly tier: 'implausible' | 'out-of-specification' | 'noted';
  readonly field: string;
  readonly value: string;
  readonly limit: string;
  /** It stood in the version before: confirmed then, and not asked about again. */
  readonly stoodBefore?: boolean;
}

/** The code by which the sender says of just this value in just this field that it is true. */
export function confirmCode({ field, value }: Finding): string {
  return `${field}:${createHash('sha256').update(`${field}=${value}`).digest('hex').slice(0, 8)}`;
}

/** The marks a record keeps of `findings`. Refuses with 422 while an implausible one is not confirmed. */
export function marksOf(findings: readonly Finding[], confirmed: readonly string[]): Mark[] {
  const open = findings.filter((found) => found.tier === 'implausible' && found.stoodBefore !== true && !confirmed.includes(confirmCode(found)));
  if (open.length > 0) {
    throw new Refused(
      422,
      'implausible',
      'A value is possible but unlikely. If it is true, send the request again with its code in confirm.',
      open.map((found) => ({ ...fieldOf(found), confirm: confirmCode(found) })),
    );
  }
  return findings.map((found) => ({
    kind: found.tier === 'implausible' ? 'confirmed-implausible' : found.tier,
    ...fieldOf(found),
  }));
}

const fieldOf = ({ field, value, limit }: Finding): { field: string; value: string; limit: string } => ({
  field,
  value,
  limit,
});

/** The finding, if any, of a number outside the bounds one usually sees. Either bound may be absent. */
export function outside(
  tier: Finding['tier'],
  field: string,
  value: string | number,
  bounds: { readonly min?: number; readonly max?: number; readonly unit: string },
): Finding[] {
  const { min = -Infinity, max = Infinity, unit } = bounds;
  const number = Number(value);
  if (number >= min && number <= max) return [];
  const limit = [
    ...(min === -Infinity ? [] : [`at least ${min} ${unit}`]),
    ...(max === Infinity ? [] : [`at most ${max} ${unit}`]),
  ].join(', ');
  return [{ tier, field, value: String(value), limit: tier === 'implausible' ? `usually ${limit}` : limit }];
}
