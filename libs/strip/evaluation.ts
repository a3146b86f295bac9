/**
 * Strip against its specification: each value beside its limit, with the rule that decided. The whole is the worst of
 * its lines, never an average; what is not reported is never a clean result.
 */
import { judge, judgeBounds, remembering, worst, type ConformityRules, type Judgement, type Reading, type Verdict } from '#libs/conformity';
import { compare, decimal, over, plus, ratio } from '#libs/exact';
import { findCharacteristic } from './characteristic.js';
import { deriver, type DerivedValue } from './derived-value.js';
import { effectiveLimits, type EffectiveLimits, type OrderedSize } from './effective-limits.js';
import { requirementName, type Requirement } from './requirement.js';
import { slipOf } from './slip.js';
import { printedText, type SourcedValue, type ValueSource } from './sourced-value.js';
import type { ToleranceTable } from './tolerance-table.js';

/** A specification as values are held against it. */
export interface StripRules {
  readonly requirements: readonly Requirement[];
  readonly ownTables: readonly ToleranceTable[];
  readonly conformity: ConformityRules;
}

/** One value beside its limit. */
export interface EvaluationLine {
  /** Place of the requirement in the specification, from 0; null for what is asked of the papers themselves. */
  readonly requirement: number | null;
  readonly name: string;
  readonly limits: string;
  readonly limitsFrom: string;
  /** The value as printed, with unit and multiplier; null when nothing was reported. */
  readonly printed: string | null;
  readonly source: ValueSource | null;
  readonly verdict: Verdict;
  /** As compared, in `unit`; null when it was not. */
  readonly compared: string | null;
  /** Distance to the nearest limit, positive inside, in `unit`. */
  readonly margin: string | null;
  readonly nearest: 'min' | 'max' | null;
  readonly unit: string;
  readonly conformanceProbability: number | null;
  readonly rule: string;
  readonly reason: string | null;
  /** The slip of unit or decimal point that a value beyond its limits looks like; it does not conform all the same. */
  readonly looksLike: string | null;
}

export interface Evaluation {
  readonly verdict: Verdict;
  /** In the order of the requirements; several values of one requirement in the order in which they were given. */
  readonly lines: readonly EvaluationLine[];
}

/** A requirement made ready to judge many values. */
interface Ready {
  readonly requirement: Requirement;
  readonly place: number;
  readonly name: string;
  readonly limits: EffectiveLimits;
  readonly judge: ((reading: Reading) => Judgement) | null;
  readonly judgeDerived: ((derived: DerivedValue) => Judgement) | null;
  readonly derive: (values: readonly SourcedValue[]) => readonly DerivedValue[];
  /** The slip that a value beyond the limits looks like. */
  readonly slip: (compared: string) => string | null;
  /** Lines given before, by the very value: readers of large files give equal values as one object. */
  readonly kept: WeakMap<SourcedValue | DerivedValue, EvaluationLine>;
}

/**
 * The evaluation of any number of coils of one ordered size by one specification. The requirements are made ready once;
 * the function it gives takes all values known of a coil and depends on nothing but them.
 */
export function evaluator(rules: StripRules, ordered: OrderedSize | null): (values: readonly SourcedValue[]) => Evaluation {
  const ready = rules.requirements.map((requirement, place) => readied(requirement, place, rules, ordered));
  return (values) => {
    const byCode = grouped(values);
    const lines: EvaluationLine[] = [];
    const verdicts = new Set<Verdict>();
    for (const one of ready) addLines(lines, one, values, byCode);
    for (const { verdict } of lines) verdicts.add(verdict);
    return { verdict: worst(verdicts), lines };
  };
}

function readied(requirement: Requirement, place: number, rules: StripRules, ordered: OrderedSize | null): Ready {
  const limits = effectiveLimits(requirement, ordered, rules.ownTables);
  const options = { toDecimals: requirement.toDecimals, expandedU: requirement.expandedU };
  const name = requirementName(requirement);
  const slip = remembering((compared: string) => slipTowards(limits, compared) ?? NO_SLIP, (compared) => compared, SLIPS_KEPT);
  const ready: Omit<Ready, 'judge' | 'judgeDerived'> = {
    requirement, place, name, limits, derive: deriver(requirement), slip: (compared: string) => slip(compared) || null, kept: new WeakMap(),
  };
  if (!('limits' in limits)) return { ...ready, judge: null, judgeDerived: null };
  const derived = judgeBounds(limits.limits, rules.conformity, options);
  return {
    ...ready, judge: judge(limits.limits, rules.conformity, options),
    judgeDerived: ({ bounds, unit }) => derived(bounds, unit),
  };
}

function grouped(values: readonly SourcedValue[]): Map<string, SourcedValue[]> {
  const byCode = new Map<string, SourcedValue[]>();
  for (const value of values) {
    const same = byCode.get(value.characteristic);
    if (same === undefined) byCode.set(value.characteristic, [value]);
    else same.push(value);
  }
  return byCode;
}

/** Adds the lines of one requirement: one for each value, and one that says so where there is none. */
function addLines(lines: EvaluationLine[], ready: Ready, values: readonly SourcedValue[], byCode: ReadonlyMap<string, SourcedValue[]>): void {
  const before = lines.length;
  for (const value of byCode.get(ready.requirement.characteristic) ?? []) {
    if (value.analysis === ready.requirement.analysis) lines.push(keptLine(ready, value, valueLine));
  }
  for (const value of ready.derive(values)) lines.push(keptLine(ready, value, derivedLine));
  if (lines.length === before) lines.push(absentLine(ready, values));
}

function keptLine<V extends SourcedValue | DerivedValue>(ready: Ready, value: V, make: (ready: Ready, value: V) => EvaluationLine): EvaluationLine {
  const known = ready.kept.get(value);
  if (known !== undefined) return known;
  const line = make(ready, value);
  ready.kept.set(value, line);
  return line;
}

function valueLine(ready: Ready, value: SourcedValue): EvaluationLine {
  const printed = printedText(value);
  const obstacle = value.doubt ?? otherCondition(ready.requirement, value);
  if (obstacle !== null) return unjudged(ready, 'not-comparable', obstacle, printed, value.source);
  if (ready.judge === null) return unjudged(ready, 'not-comparable', missingLimits(ready), printed, value.source);
  return judged(ready, ready.judge(value), printed, value.source);
}

function derivedLine(ready: Ready, derived: DerivedValue): EvaluationLine {
  if (ready.judgeDerived === null) return unjudged(ready, 'not-comparable', missingLimits(ready), derived.text, derived.source);
  const judgement = ready.judgeDerived(derived);
  const reason = [judgement.reason, derived.reason].filter((part) => part !== null).join('; ');
  return { ...judged(ready, judgement, derived.text, derived.source), reason: reason === '' ? null : reason };
}

function judged(ready: Ready, judgement: Judgement, printed: string, source: ValueSource): EvaluationLine {
  const { verdict, compared, margin, nearest, conformanceProbability, rule, reason } = judgement;
  const { place, name, limits, requirement } = ready;
  return {
    requirement: place, name, limits: limits.words, limitsFrom: 'origin' in limits ? limits.origin : limits.missing, printed, source,
    verdict, compared, margin, nearest, unit: requirement.unit, conformanceProbability, rule, reason,
    looksLike: verdict === 'does-not-conform' ? ready.slip(compared) : null,
  };
}

function unjudged(ready: Ready, verdict: Verdict, reason: string, printed: string | null, source: ValueSource | null): EvaluationLine {
  const { place, name, limits, requirement } = ready;
  return {
    requirement: place, name, limits: limits.words, limitsFrom: 'origin' in limits ? limits.origin : limits.missing, printed, source,
    verdict, compared: null, margin: null, nearest: null, unit: requirement.unit, conformanceProbability: null,
    rule: 'not held against the limits', reason, looksLike: null,
  };
}

const SLIPS_KEPT = 1000;
const NO_SLIP = '';

/** Around the middle of limits with two sides a slip is recognised when it lands within 18 % of it. */
const SLIP_TOLERANCE = decimal('0.18');

function slipTowards(limits: EffectiveLimits, compared: string): string | null {
  if (!('limits' in limits) || limits.limits.min === null || limits.limits.max === null || !/^-?\d+(\.\d+)?$/.test(compared)) return null;
  const middle = over(plus(decimal(limits.limits.min), decimal(limits.limits.max)), ratio(2n));
  return slipOf(decimal(compared), middle, SLIP_TOLERANCE)?.because ?? null;
}

const missingLimits = ({ limits }: Ready): string => ('missing' in limits ? limits.missing : 'there are no limits');

/** The line of a requirement for which there is no value: what comes near is named, and is not taken for it. */
function absentLine(ready: Ready, values: readonly SourcedValue[]): EvaluationLine {
  const { requirement, name } = ready;
  const family = findCharacteristic(requirement.characteristic)?.family ?? null;
  const near = values.find((value) =>
    value.characteristic === requirement.characteristic
    || (family !== null && findCharacteristic(value.characteristic)?.family === family));
  if (near === undefined) return unjudged(ready, 'not-reported', `${name} is asked for and was not reported`, null, null);
  const what = requirementName(near);
  const reason = near.characteristic === requirement.characteristic
    ? `${name} is asked for; reported is ${what}`
    : `${name} is asked for; reported is ${what}, which is a different quantity`;
  return unjudged(ready, 'not-comparable', reason, printedText(near), near.source);
}

/** Why a value was taken under conditions that the requirement does not mean; null when it was not. */
function otherCondition(requirement: Requirement, value: SourcedValue): string | null {
  if (requirement.temperatureC !== null) {
    if (value.temperatureC === null) return `no test temperature is stated; asked for is ${requirement.temperatureC} °C`;
    if (compare(decimal(value.temperatureC), decimal(requirement.temperatureC)) > 0) {
      return `tested at ${value.temperatureC} °C, warmer than the ${requirement.temperatureC} °C asked for`;
    }
  }
  if (requirement.baseMm !== null) {
    if (value.baseMm === null) return `no base length is stated; asked for is ${requirement.baseMm} mm`;
    if (compare(decimal(value.baseMm), decimal(requirement.baseMm)) !== 0) {
      return `measured over ${value.baseMm} mm; the limit is over ${requirement.baseMm} mm`;
    }
  }
  return null;
}
