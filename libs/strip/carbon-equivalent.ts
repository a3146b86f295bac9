import type { Ratio } from '#libs/exact';
import { compare, decimal, plus, ratio, times } from '#libs/exact';

/**
 * Carbon equivalents that are sums of mass fractions in %, computed exactly:
 *   CE(IIW) = C + Mn/6 + (Cr + Mo + V)/5 + (Ni + Cu)/15
 *   Pcm     = C + Si/30 + (Mn + Cu + Cr)/20 + Ni/60 + Mo/15 + V/10 + 5B   (Ito and Bessyo)
 *   CET     = C + (Mn + Mo)/10 + (Cr + Cu)/20 + Ni/40
 * Sources: formula sheets that agree; API 5L 9.2.4 and 9.2.5 for the first two. Those that are no sums are in
 * `carbon-equivalent-numbers.ts`.
 */
export type LinearEquivalent = 'CE(IIW)' | 'Pcm' | 'CET';

/** A mass fraction in % that lies from `low` to `high`; `high` is null where nothing bounds it above. */
export interface MassFractionBounds {
  readonly low: Ratio;
  readonly high: Ratio | null;
}

/** One element's share of an equivalent, %: its mass fraction times `factor`. */
export interface EquivalentTerm {
  readonly element: string;
  readonly factor: Ratio;
  readonly low: Ratio;
  readonly high: Ratio | null;
}

export interface EquivalentBounds {
  readonly low: Ratio;
  /** Null when an element is not reported, or not bounded above. */
  readonly high: Ratio | null;
  /** Elements of the formula that are not reported, in its order. */
  readonly missing: readonly string[];
  readonly terms: readonly EquivalentTerm[];
}

const ZERO = ratio(0n);
const part = (divisor: bigint): Ratio => ratio(1n, divisor);

const FACTORS: Readonly<Record<LinearEquivalent, readonly (readonly [string, Ratio])[]>> = {
  'CE(IIW)': [['C', part(1n)], ['Mn', part(6n)], ['Cr', part(5n)], ['Mo', part(5n)], ['V', part(5n)], ['Ni', part(15n)], ['Cu', part(15n)]],
  Pcm: [
    ['C', part(1n)], ['Si', part(30n)], ['Mn', part(20n)], ['Cu', part(20n)], ['Cr', part(20n)], ['Ni', part(60n)], ['Mo', part(15n)],
    ['V', part(10n)], ['B', ratio(5n)],
  ],
  CET: [['C', part(1n)], ['Mn', part(10n)], ['Mo', part(10n)], ['Cr', part(20n)], ['Cu', part(20n)], ['Ni', part(40n)]],
};

/** The elements of an equivalent, in the order of its formula. */
export function elementsOf(kind: LinearEquivalent): readonly string[] {
  return FACTORS[kind].map(([element]) => element);
}

/**
 * Bounds of a carbon equivalent, %, over the bounds of a composition in % by symbol of element. An element that is not
 * reported is not 0: its share has no upper bound, so the sum has none either, and it is listed as missing. A lower bound
 * below 0, as a small value less its uncertainty has, counts as 0. Throws RangeError when a `high` is below 0 or its `low`.
 */
export function carbonEquivalent(kind: LinearEquivalent, composition: ReadonlyMap<string, MassFractionBounds>): EquivalentBounds {
  const terms = FACTORS[kind].map(([element, factor]) => termOf(element, factor, composition.get(element)));
  return {
    low: terms.reduce((sum, { low }) => plus(sum, low), ZERO),
    high: terms.reduce<Ratio | null>((sum, { high }) => (sum === null || high === null ? null : plus(sum, high)), ZERO),
    missing: elementsOf(kind).filter((element) => !composition.has(element)),
    terms,
  };
}

function termOf(element: string, factor: Ratio, bounds: MassFractionBounds | undefined): EquivalentTerm {
  if (bounds === undefined) return { element, factor, low: ZERO, high: null };
  const low = compare(bounds.low, ZERO) < 0 ? ZERO : bounds.low;
  const { high } = bounds;
  if (high !== null && compare(high, low) < 0) throw new RangeError(`${element}: the upper bound is below the lower one or below 0`);
  return { element, factor, low: times(factor, low), high: high === null ? null : times(factor, high) };
}

/** Carbon up to which Pcm governs in API 5L PSL 2, %. */
const PCM_UP_TO_PERCENT = decimal('0.12');

/**
 * The equivalent that API 5L PSL 2 limits: Pcm up to 0.12 % carbon by product analysis, CE(IIW) above (9.2.4 and 9.2.5).
 * Throws RangeError when the carbon is below 0.
 */
export function governingEquivalent(carbonPercent: Ratio): 'Pcm' | 'CE(IIW)' {
  if (compare(carbonPercent, ZERO) < 0) throw new RangeError('a carbon content cannot be below 0');
  return compare(carbonPercent, PCM_UP_TO_PERCENT) <= 0 ? 'Pcm' : 'CE(IIW)';
}
