import { compare, minus, over, ratio, toNumber } from '#libs/exact';
import type { Ratio } from '#libs/exact';
import { conformanceProbability } from './conformance-probability.js';
import { convertedZone } from './conversion.js';
import type { Bounds } from './reading.js';
import type { Limit, Requirement } from './requirement.js';
import { asRounded } from './rounding.js';
import type { Ruling } from './ruling.js';
import type { Verdict } from './verdict.js';
import { insideText, type LimitTexts, textOf, zoneText } from './wording.js';
import { closedZone, isApart, isWithin, type Zone } from './zone.js';

/** What is said of one value against its limits. Numbers are decimal text in the unit of the limits. */
export interface Judgement {
  /** Never 'not-reported': that there is no value is for the caller to see. */
  readonly verdict: Verdict;
  /** The value as it was compared with the nearest limit: `0.085`, `< 0.001`, `0 to 0.0012`; as printed, with its unit, when it was not. */
  readonly compared: string;
  /** From the value to the nearest limit of the specification, positive inside; of a value between bounds, what holds for all it can be. */
  readonly margin: string | null;
  readonly nearest: 'min' | 'max' | null;
  /** The limits less the guard band. */
  readonly acceptance: LimitTexts;
  /** JCGM 106:2012, section 7, for the unrounded value and u = U/2; null when U or the value is not known outright, or nothing is limited. */
  readonly conformanceProbability: number | null;
  readonly rule: string;
  /** Why the value is not comparable, lies inside the guard band, or could not conform whatever it were. */
  readonly reason: string | null;
}

/** A value held against one limit. */
interface Comparison {
  readonly limit: Limit;
  readonly compared: Zone;
  readonly margin: Ratio | null;
}

/** The judgement of a value that could be read. */
export function judgementOf(ruling: Ruling, bounds: Bounds, unit: string): Judgement {
  const { requirement, conversion } = ruling;
  if ('fault' in conversion) return notCompared(ruling, `${zoneText(bounds, bounds.decimals, null)} ${unit}`, conversion.fault);
  const value = convertedZone(bounds, conversion);
  const leastDecimals = unit === requirement.unit ? bounds.decimals : 0;
  const comparisons = [requirement.min, requirement.max].filter((limit) => limit !== null).map((limit) => comparisonWith(limit, value));
  const nearest = nearestOf(comparisons);
  const verdict = verdictOf(ruling, value);
  const compared = nearest === null ? zoneText(value, leastDecimals, null) : comparedText(nearest, value, leastDecimals);
  return Object.freeze({
    verdict,
    compared,
    margin: marginText(nearest),
    nearest: nearest && nearest.limit.side,
    acceptance: ruling.acceptance,
    conformanceProbability: probabilityOf(ruling, value),
    rule: ruling.rule,
    reason: reasonOf(ruling, verdict, compared, nearest),
  });
}

/** The judgement of a value that could not be compared at all. */
export function notCompared(ruling: Ruling, compared: string, reason: string): Judgement {
  const { acceptance, rule } = ruling;
  return Object.freeze({
    verdict: 'not-comparable', compared, margin: null, nearest: null, acceptance, conformanceProbability: null, rule, reason,
  });
}

/** Certain only where it holds for everything that the value can be. */
function verdictOf({ requirement, zones }: Ruling, value: Zone): Verdict {
  if (isReportOnly(requirement)) return 'conforms';
  if (zones === null) return 'not-comparable';
  const { acceptance, tolerance } = zones;
  if (acceptance !== null && isWithin(value, acceptance)) return 'conforms';
  if (isApart(value, tolerance)) return 'does-not-conform';
  if (acceptance !== null && isWithin(value, tolerance) && isApart(value, acceptance)) return 'inside-guard-band';
  return 'not-comparable';
}

function comparisonWith(limit: Limit, value: Zone): Comparison {
  const compared = limit.place === null ? value : asRounded(value, limit.place);
  return { limit, compared, margin: marginOf(limit, compared) };
}

/** What lies between the limit and the end of the zone that is nearer to it; null when the limit parts the zone. */
function marginOf({ side, value }: Limit, compared: Zone): Ratio | null {
  const [zone, inner, outer] = side === 'max'
    ? [closedZone(null, value), compared.low, compared.high]
    : [closedZone(value, null), compared.high, compared.low];
  const end = isWithin(compared, zone) ? outer : isApart(compared, zone) ? inner : null;
  if (end === null) return null;
  return side === 'max' ? minus(value, end) : minus(end, value);
}

/** The comparison with the least margin; min when both are as near. None while a limit parts the value, unless it fails another. */
function nearestOf(comparisons: readonly Comparison[]): Comparison | null {
  let nearest: Comparison | null = null;
  for (const one of comparisons) {
    if (one.margin !== null && (nearest === null || nearest.margin === null || compare(one.margin, nearest.margin) < 0)) nearest = one;
  }
  const isParted = comparisons.some(({ margin }) => margin === null);
  return isParted && (nearest?.margin?.numerator ?? 0n) >= 0n ? null : nearest;
}

/** An open end that rounding leaves where it is stays open in print: `< 0.001`. */
function comparedText({ limit, compared, margin }: Comparison, value: Zone, leastDecimals: number): string {
  const shown: Zone = {
    ...compared,
    lowOpen: value.lowOpen && isSame(value.low, compared.low),
    highOpen: value.highOpen && isSame(value.high, compared.high),
  };
  return zoneText(shown, limit.place ?? leastDecimals, margin);
}

function isSame(a: Ratio | null, b: Ratio | null): boolean {
  return a !== null && b !== null && compare(a, b) === 0;
}

function marginText(nearest: Comparison | null): string | null {
  if (nearest === null || nearest.margin === null) return null;
  return textOf(nearest.margin, Math.max(nearest.limit.place ?? 0, 0), nearest.margin);
}

function probabilityOf({ requirement: { min, max }, expandedU }: Ruling, { low, high }: Zone): number | null {
  if (expandedU === null || low === null || !isSame(low, high) || (min === null && max === null)) return null;
  const u = toNumber(over(expandedU, ratio(2n)));
  return conformanceProbability(toNumber(low), u, min && toNumber(min.value), max && toNumber(max.value));
}

function reasonOf(ruling: Ruling, verdict: Verdict, compared: string, nearest: Comparison | null): string | null {
  const { requirement, guardBand, noneConforms } = ruling;
  if (isReportOnly(requirement)) return null;
  if (guardBand === null && verdict === 'not-comparable') return 'the expanded uncertainty of the value is missing, and the guard band rests on it';
  if (noneConforms !== null) return noneConforms;
  if (verdict === 'inside-guard-band') return guardBandReason(ruling, compared, nearest);
  if (verdict !== 'not-comparable') return null;
  const once = requirement.rules.rounding === 'rounding' ? ' once rounded' : '';
  return `the value is known only as ${compared} ${requirement.unit}: to conform it would have to be ${insideText(ruling.acceptance, requirement.unit)}${once}`;
}

function guardBandReason({ requirement: { unit }, guardBand }: Ruling, compared: string, nearest: Comparison | null): string {
  const band = guardBand === null ? '' : ` of ${textOf(guardBand, 0, guardBand)} ${unit}`;
  const margin = marginText(nearest);
  if (nearest === null || margin === null) return `everything the value can be, ${compared} ${unit}, lies inside the guard band${band}`;
  const limit = `${nearest.limit.side} ${nearest.limit.text} ${unit}`;
  if (!margin.startsWith('-')) return `${compared} ${unit} is ${margin} inside ${limit}, less than the guard band${band}`;
  return `${compared} ${unit} is ${margin.slice(1)} beyond ${limit}, not more than the guard band${band}: neither conformity nor non-conformity is proved`;
}

function isReportOnly({ min, max }: Requirement): boolean {
  return min === null && max === null;
}
