import { parseReading, remembering, type Bounds } from '#libs/conformity';
import { compare, decimalText, over, plus, ratio, times, type Ratio } from '#libs/exact';
import { exactConversion, isUnitName } from '#libs/units';
import { carbonEquivalent, elementsOf, type LinearEquivalent } from './carbon-equivalent.js';
import type { Requirement } from './requirement.js';
import type { SourcedValue, ValueSource } from './sourced-value.js';

/** A value that follows from others, known between two bounds. */
export interface DerivedValue {
  readonly bounds: Bounds;
  readonly unit: string;
  readonly text: string;
  readonly source: ValueSource;
  /** What is missing for knowing it better. */
  readonly reason: string | null;
}

/** How many decimals a derived value is shown and rounded with beyond what its limit asks. */
const SHOWN_DECIMALS = 4;

const EQUIVALENTS: ReadonlySet<string> = new Set<LinearEquivalent>(['CE(IIW)', 'Pcm', 'CET']);
const YIELDS: ReadonlySet<string> = new Set(['ReH', 'ReL', 'Rp0.2', 'Rt0.5', 'Rt0.65', 'Rt0.7']);

const NOTHING: readonly DerivedValue[] = [];

/** Papers repeat the analysis of a heat on each of its coils. */
const ANSWERS_KEPT = 500;

/**
 * What gives the values of a requirement that follow from reported ones: carbon equivalents and sums of elements from the
 * analysis of the same kind, the yield ratio from the strengths of one source. An element not reported is not zero: what is
 * asked for is then only known from below.
 */
export function deriver(requirement: Requirement): (values: readonly SourcedValue[]) => readonly DerivedValue[] {
  const { characteristic, analysis } = requirement;
  if (characteristic === 'Y/T') return yieldRatios();
  const elements = EQUIVALENTS.has(characteristic) ? elementsOf(characteristic as LinearEquivalent) : characteristic.split('+');
  if (elements.length < 2) return () => NOTHING;
  const wanted = new Set(elements);
  const compute = (values: readonly SourcedValue[]): DerivedValue[] =>
    EQUIVALENTS.has(characteristic) ? equivalent(requirement, values) : elementSum(requirement, values);
  const kept = remembering(compute, (values) => values.map(keyOfValue).join(), ANSWERS_KEPT);
  return (values) => kept(values.filter((value) => value.analysis === analysis && wanted.has(value.characteristic)));
}

const keyOfValue = ({ characteristic, printed, unit, multiplier, doubt }: SourcedValue): string =>
  `${characteristic}${doubt === null ? '=' : '?'}${printed}${unit}${multiplier}`;

/** The derived values of one requirement, once. */
export function derivedValues(requirement: Requirement, values: readonly SourcedValue[]): readonly DerivedValue[] {
  return deriver(requirement)(values);
}

interface Between {
  readonly low: Ratio;
  readonly high: Ratio | null;
}

/** Bounds of a reported value in a unit; null when it cannot be read, is in doubt, or is of another dimension. */
function between(value: SourcedValue, unit: '%' | 'MPa'): Between | null {
  if (value.doubt !== null || !isUnitName(value.unit)) return null;
  const read = parseReading(value);
  if ('fault' in read) return null;
  const { factor } = exactConversion(value.unit, unit);
  const low = read.low === null ? ratio(0n) : times(read.low, factor);
  return { low, high: read.high === null ? null : times(read.high, factor) };
}

/** Each element between the least and the most that any paper says of it. */
function composition(requirement: Requirement, values: readonly SourcedValue[]): Map<string, Between> {
  const found = new Map<string, Between>();
  for (const value of values) {
    if (value.analysis !== requirement.analysis) continue;
    const one = between(value, '%');
    if (one === null) continue;
    const other = found.get(value.characteristic);
    found.set(value.characteristic, other === undefined ? one : hull(one, other));
  }
  return found;
}

function hull(one: Between, other: Between): Between {
  const low = compare(one.low, other.low) <= 0 ? one.low : other.low;
  if (one.high === null || other.high === null) return { low, high: null };
  return { low, high: compare(one.high, other.high) >= 0 ? one.high : other.high };
}

function equivalent(requirement: Requirement, values: readonly SourcedValue[]): DerivedValue[] {
  const elements = composition(requirement, values);
  if (elements.size === 0) return [];
  const { low, high, missing } = carbonEquivalent(requirement.characteristic as LinearEquivalent, elements);
  const reason = missing.length === 0 ? null : `not reported, and not taken for zero: ${missing.join(', ')}`;
  return [derived({ low, high }, '%', `${requirement.characteristic} recomputed from the ${requirement.analysis ?? ''} analysis`, reason)];
}

function elementSum(requirement: Requirement, values: readonly SourcedValue[]): DerivedValue[] {
  const elements = composition(requirement, values);
  const names = requirement.characteristic.split('+');
  const known = names.flatMap((name) => elements.get(name) ?? []);
  if (known.length === 0) return [];
  const missing = names.filter((name) => !elements.has(name));
  const low = known.reduce((sum, one) => plus(sum, one.low), ratio(0n));
  const high = missing.length > 0 ? null : known.reduce<Ratio | null>((sum, one) => (sum === null || one.high === null ? null : plus(sum, one.high)), ratio(0n));
  const reason = missing.length === 0 ? null : `not reported, and not taken for zero: ${missing.join(', ')}`;
  return [derived({ low, high }, '%', `${requirement.characteristic} added up from the ${requirement.analysis ?? ''} analysis`, reason)];
}

/** Yield and tensile strength of one source, place and direction belong to one test piece. */
function yieldRatios(): (values: readonly SourcedValue[]) => DerivedValue[] {
  const kept = remembering(
    ([strength, tensile]: readonly [SourcedValue, SourcedValue]) => yieldRatio(strength, tensile),
    ([strength, tensile]) => `${keyOfValue(strength)} ${keyOfValue(tensile)} ${strength.source.label}`, ANSWERS_KEPT,
  );
  return (values) => values.flatMap((strength) => {
    if (!YIELDS.has(strength.characteristic)) return [];
    const tensile = values.find((value) => value.characteristic === 'Rm' && isOfOneTest(value, strength));
    return tensile === undefined ? [] : kept([strength, tensile]);
  });
}

function yieldRatio(strength: SourcedValue, tensile: SourcedValue): DerivedValue[] {
  const [yields, ultimate] = [between(strength, 'MPa'), between(tensile, 'MPa')];
  if (yields?.high == null || ultimate?.high == null || compare(ultimate.low, ratio(0n)) <= 0) return [];
  const bounds = { low: over(yields.low, ultimate.high), high: over(yields.high, ultimate.low) };
  return [derived(bounds, '1', `${strength.characteristic}/Rm of ${strength.source.label}`, null)];
}

function isOfOneTest(one: SourcedValue, other: SourcedValue): boolean {
  return one.source.label === other.source.label && one.location === other.location && one.direction === other.direction;
}

function derived({ low, high }: Between, unit: string, label: string, reason: string | null): DerivedValue {
  const exact = high !== null && compare(low, high) === 0;
  const bounds: Bounds = { low, high, lowOpen: false, highOpen: false, decimals: SHOWN_DECIMALS };
  const shown = (value: Ratio): string => decimalText(value, SHOWN_DECIMALS, 'half-even');
  const text = exact ? shown(low) : high === null ? `at least ${shown(low)}` : `${shown(low)} to ${shown(high)}`;
  return { bounds, unit, text: unit === '1' ? text : `${text} ${unit}`, source: { label, record: null }, reason };
}
