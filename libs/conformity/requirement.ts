import { compare, decimal, decimalsOf } from '#libs/exact';
import type { Ratio } from '#libs/exact';

/** The limits of a specification as decimal text; they belong to what conforms. Both null: the value is only reported. */
export interface Limits {
  readonly min: string | null;
  readonly max: string | null;
  readonly unit: string;
}

export interface ConformityRules {
  /** The two methods of ASTM E29: compare the value unrounded, or rounded to the place of the limit. */
  readonly rounding: 'absolute' | 'rounding';
  /** JCGM 106:2012 8.2, JCGM 106:2012 8.3.2, ISO 14253-1. */
  readonly decision: 'simple-acceptance' | 'guarded-acceptance' | 'proof-of-conformity';
  /** r in w = r·U, the width of a guard band, as decimal text (ILAC-G8:09/2019, table 1; usually 1). Simple acceptance has none. */
  readonly guardFactor: string;
}

export interface JudgeOptions {
  /** Place to round to where the specification states one: digits after the point, negative for tens and more. The absolute method has no use for it. */
  readonly toDecimals: number | null;
  /** Expanded uncertainty, k = 2, in the unit of the limits, for readings that state none. */
  readonly expandedU: string | null;
}

/** A limit as printed and as a number, with the place that a value is rounded to before it is compared; null: not rounded. */
export interface Limit {
  readonly side: 'min' | 'max';
  readonly text: string;
  readonly value: Ratio;
  readonly place: number | null;
}

/** Limits and rules, read once for all the values that they judge. */
export interface Requirement {
  readonly unit: string;
  readonly min: Limit | null;
  readonly max: Limit | null;
  readonly rules: ConformityRules;
  readonly toDecimals: number | null;
  /** r; null where simple acceptance needs none. */
  readonly guardFactor: Ratio | null;
  /** In the unit of the limits. */
  readonly expandedU: Ratio | null;
}

/** Further from the point no specification rounds. */
const PLACE_MAX = 15;

/**
 * The requirement that these say. Throws SyntaxError when a number is not plain decimal text, RangeError when the limits
 * are reversed, when the guard factor or the uncertainty is below 0, or when the stated place is no place (-15 to 15).
 */
export function readRequirement(limits: Limits, rules: ConformityRules, options: JudgeOptions): Requirement {
  const { toDecimals } = options;
  if (toDecimals !== null && !(Number.isSafeInteger(toDecimals) && Math.abs(toDecimals) <= PLACE_MAX)) {
    throw new RangeError(`toDecimals is not a whole number from -${PLACE_MAX} to ${PLACE_MAX}: ${toDecimals}`);
  }
  const [min, max] = [limitOf('min', limits.min, rules, toDecimals), limitOf('max', limits.max, rules, toDecimals)];
  if (min !== null && max !== null && compare(min.value, max.value) > 0) {
    throw new RangeError(`limits are reversed: min ${min.text}, max ${max.text}`);
  }
  const guardFactor = rules.decision === 'simple-acceptance' ? null : notNegative(rules.guardFactor, 'guardFactor');
  const expandedU = options.expandedU === null ? null : notNegative(options.expandedU, 'expandedU');
  return { unit: limits.unit, min, max, rules, toDecimals, guardFactor, expandedU };
}

function limitOf(side: Limit['side'], text: string | null, rules: ConformityRules, toDecimals: number | null): Limit | null {
  if (text === null) return null;
  const place = rules.rounding === 'absolute' ? null : toDecimals ?? decimalsOf(text);
  return { side, text, value: decimal(text), place };
}

function notNegative(text: string, name: string): Ratio {
  const value = decimal(text);
  if (value.numerator < 0n) throw new RangeError(`${name} is below 0: ${text}`);
  return value;
}
