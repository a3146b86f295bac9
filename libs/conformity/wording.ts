import { compare, decimalsOf, decimalText, exactText, ratio } from '#libs/exact';
import type { Ratio } from '#libs/exact';
import type { DecisionZones } from './guard-band.js';
import type { Requirement } from './requirement.js';
import { isEmpty, type Zone } from './zone.js';

/** Two limits as decimal text. */
export interface LimitTexts {
  readonly min: string | null;
  readonly max: string | null;
}

/** What the guard band rests on, for the sentence that states the rule. */
interface Guard {
  /** As printed, before any regard to rounding; null when the uncertainty is not known. */
  readonly zones: DecisionZones | null;
  readonly guardBand: Ratio | null;
  readonly expandedU: Ratio | null;
}

const MOST_DECIMALS = 40;

/**
 * The value as decimal text, in full, with `leastDecimals` digits at least. Where its decimal has no end it is cut so
 * that three digits of `telling`, the difference that matters, still show.
 */
export function textOf(value: Ratio, leastDecimals: number, telling: Ratio): string {
  const exact = exactText(value);
  if (exact === null) return decimalText(value, tellingDecimals(telling, Math.max(leastDecimals, 0) + 3), 'half-even');
  return decimalsOf(exact) < leastDecimals ? decimalText(value, leastDecimals, 'half-even') : exact;
}

function tellingDecimals({ numerator, denominator }: Ratio, least: number): number {
  const size = numerator < 0n ? -numerator : numerator;
  let decimals = least;
  while (decimals < MOST_DECIMALS && size * 10n ** BigInt(decimals) < 100n * denominator) decimals++;
  return decimals;
}

/** The zone in words: `0.085`, `< 0.001`, `≥ 0.31`, `0 to 0.0012`. Only a single number is filled up to `leastDecimals`. */
export function zoneText({ low, high, lowOpen, highOpen }: Zone, leastDecimals: number, telling: Ratio | null): string {
  const end = (value: Ratio, decimals: number): string => textOf(value, decimals, telling ?? value);
  if (low === null) return high === null ? 'any value' : `${highOpen ? '<' : '≤'} ${end(high, leastDecimals)}`;
  if (high === null) return `${lowOpen ? '>' : '≥'} ${end(low, leastDecimals)}`;
  if (compare(low, high) === 0) return end(low, leastDecimals);
  return `${lowOpen ? '> ' : ''}${end(low, 0)} to ${highOpen ? '< ' : ''}${end(high, 0)}`;
}

/** The ends of a zone that is given by the limits, with their digits. Nothing for a zone that is not known. */
export function limitTexts({ min, max }: Requirement, zone: Zone | null, guardBand: Ratio | null): LimitTexts {
  const end = (value: Ratio | null, printed: string): string | null => value && textOf(value, decimalsOf(printed), guardBand ?? value);
  return { min: zone && min && end(zone.low, min.text), max: zone && max && end(zone.high, max.text) };
}

/** `from 9 to 11 mm`, `at least 9 mm`, `at most 11 mm`. */
export function insideText({ min, max }: LimitTexts, unit: string): string {
  if (min !== null && max !== null) return `from ${min} to ${max} ${unit}`;
  return min === null ? `at most ${String(max)} ${unit}` : `at least ${min} ${unit}`;
}

/** `below 9 or above 11 mm`. */
function beyondText({ min, max }: LimitTexts, unit: string): string {
  const sides = [min === null ? null : `below ${min}`, max === null ? null : `above ${max}`];
  return `${sides.filter((side) => side !== null).join(' or ')} ${unit}`;
}

/** Why no value can conform: the guard bands meet, or no number of the place lies between the acceptance limits. */
export function noneConformsText(requirement: Requirement, acceptance: Zone, guardBand: Ratio | null): string {
  const { min, max, unit } = requirement;
  const between = `between min ${String(min?.text)} and max ${String(max?.text)} ${unit}`;
  if (isEmpty(acceptance) && guardBand !== null) {
    return `no value can conform: two guard bands of ${textOf(guardBand, 0, guardBand)} ${unit} are more than lies ${between}`;
  }
  const limits = insideText(limitTexts(requirement, acceptance, guardBand), unit);
  return `no value can conform: ${placeText(requirement)}, none is ${limits}`;
}

/** One sentence that lets a reader judge the value again by hand. */
export function ruleText(requirement: Requirement, unit: string, guard: Guard): string {
  if (requirement.min === null && requirement.max === null) return 'report only';
  const converted = unit === requirement.unit ? '' : `converted exactly from ${unit} to ${requirement.unit} and `;
  const method = requirement.rules.rounding === 'absolute' ? 'absolute' : 'rounding';
  const treated = method === 'absolute' ? 'compared unrounded' : `${placeText(requirement)}, then compared`;
  return `ASTM E29 ${method} method: the value is ${converted}${treated}; ${decisionText(requirement, guard)}.`;
}

function decisionText(requirement: Requirement, guard: Guard): string {
  const { unit, rules } = requirement;
  const accepted = guard.zones && guard.zones.acceptance;
  const acceptance = limitTexts(requirement, accepted, guard.guardBand);
  const tolerance = limitTexts(requirement, guard.zones && guard.zones.tolerance, guard.guardBand);
  if (rules.decision === 'simple-acceptance') {
    return `it conforms ${insideText(acceptance, unit)}, limits included (simple acceptance, JCGM 106 8.2)`;
  }
  const source = rules.decision === 'guarded-acceptance' ? 'guarded acceptance, JCGM 106 8.3.2' : 'proof of conformity, ISO 14253-1';
  if (guard.zones === null) return `guard band w = ${rules.guardFactor} × U, and U is not stated (${source})`;
  if (accepted === null) {
    return `with the guard band w = ${rules.guardFactor} × U, and U not stated, it does not conform ${beyondText(tolerance, unit)}, and inside it is not decided (${source})`;
  }
  const conforming = isEmpty(accepted) ? 'nowhere' : insideText(acceptance, unit);
  return `with the guard band ${guardBandText(requirement, guard)} it conforms ${conforming} and does not conform ${beyondText(tolerance, unit)} (${source})`;
}

function guardBandText({ unit, rules }: Requirement, { guardBand, expandedU }: Guard): string {
  const [u, w] = [expandedU, guardBand].map((value) => (value === null ? 'U' : textOf(value, 0, value)));
  return `w = ${rules.guardFactor} × ${String(u)} = ${String(w)} ${unit}`;
}

function placeText({ min, max, toDecimals }: Requirement): string {
  const [low, high] = [min?.place ?? null, max?.place ?? null];
  const by = 'rounded half to even to';
  if (toDecimals !== null) return `${by} ${placeName(toDecimals)}, as the specification states`;
  if (low !== null && high !== null && low !== high) {
    return `${by} ${placeName(low)} for min and ${placeName(high)} for max, the last digits of the limits`;
  }
  return `${by} ${placeName(low ?? high ?? 0)}, the last digit of the limit`;
}

function placeName(place: number): string {
  if (place < 0) return `the nearest ${String(ratio(10n ** BigInt(-place)).numerator)}`;
  if (place === 0) return 'a whole number';
  return place === 1 ? '1 decimal' : `${place} decimals`;
}
