import {
  judge, judgeBounds, remembering, type Bounds, type ConformityRules, type Judgement, type JudgeOptions, type Reading, type Verdict,
} from '#libs/conformity';
import { decimal, over, plus, ratio } from '#libs/exact';
import { deriver, type DerivedValue, type Deriver } from './derived-value.js';
import { effectiveLimits, type EffectiveLimits, type OrderedSize } from './effective-limits.js';
import { requirementName, type Requirement } from './requirement.js';
import { slipOf } from './slip.js';
import { printedText, type SourcedValue, type ValueSource } from './sourced-value.js';
import { easierWords, testCondition } from './test-condition.js';
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

/** A requirement made ready to judge many values. */
export interface ReadyRequirement {
  readonly requirement: Requirement;
  readonly place: number;
  /** All of the specification that ask for its characteristic: this one, and those that want it taken otherwise. */
  readonly alike: readonly Requirement[];
  readonly name: string;
  readonly limits: EffectiveLimits;
  /** Judges what can be held against the limits; null where there are none to hold against. */
  readonly judges: Judges | null;
  readonly deriver: Deriver;
  /** The slip that a value beyond the limits looks like. */
  readonly slip: (compared: string) => string | null;
}

interface Judges {
  readonly reading: (reading: Reading) => Judgement;
  readonly bounds: (bounds: Bounds, unit: string) => Judgement;
}

/** The requirement at `place` of the specification, made ready for strip of the ordered size. Throws as `judge` does. */
export function readied(requirement: Requirement, place: number, rules: StripRules, ordered: OrderedSize | null): ReadyRequirement {
  const { characteristic, toDecimals, expandedU } = requirement;
  const options: JudgeOptions = { toDecimals, expandedU };
  const limits = effectiveLimits(requirement, ordered, rules.ownTables);
  const judges = 'missing' in limits
    ? null
    : { reading: judge(limits.limits, rules.conformity, options), bounds: judgeBounds(limits.limits, rules.conformity, options) };
  const alike = rules.requirements.filter((one) => one.characteristic === characteristic);
  return { requirement, place, alike, name: requirementName(requirement), limits, judges, deriver: deriver(requirement), slip: slips(limits) };
}

/** What a line shows of its value. */
type Shown = Pick<EvaluationLine, 'printed' | 'source'>;

/** The line of a value of the characteristic asked for. */
export function valueLine(ready: ReadyRequirement, value: SourcedValue): EvaluationLine {
  const shown = { printed: printedText(value), source: value.source };
  const condition = testCondition(ready.requirement, value);
  const { kind, words } = condition;
  if (value.doubt !== null) return unjudged(ready, 'not-comparable', words === null ? value.doubt : `${value.doubt}; ${words}`, shown);
  if (kind === 'other' || kind === 'not-stated') return unjudged(ready, 'not-comparable', words, shown);
  if (ready.judges === null) return unjudged(ready, 'not-comparable', missingLimits(ready), shown);
  const judgement = ready.judges.reading(value);
  if (condition.kind === 'easier') return unjudged(ready, 'not-comparable', easierWords(condition, judgement), shown);
  if (kind === 'as-asked' || judgement.verdict === 'not-comparable') return judged(ready, judgement, shown);
  if (judgement.verdict === 'conforms') return judged(ready, { ...judgement, reason: words }, shown);
  return unjudged(ready, 'not-comparable', `${words}: what falls short there may conform at the temperature asked for`, shown);
}

/** The line of a value that follows from others. Where it is only asked to be reported, to know it from below is not enough. */
export function derivedLine(ready: ReadyRequirement, { bounds, unit, text, source, reason }: DerivedValue): EvaluationLine {
  const shown = { printed: text, source };
  if (ready.judges === null) return unjudged(ready, 'not-comparable', missingLimits(ready), shown);
  const judgement = ready.judges.bounds(bounds, unit);
  if (bounds.high === null && isReportOnly(ready)) {
    return unjudged(ready, 'not-comparable', reason ?? 'it is known only from below', shown);
  }
  const reasons = [judgement.reason, reason].filter((part) => part !== null);
  return judged(ready, { ...judgement, reason: reasons.length === 0 ? null : reasons.join('; ') }, shown);
}

/** The line of a value that comes near what is asked for and is not taken for it: of the other analysis, or of its family. */
export function nearLine(ready: ReadyRequirement, near: SourcedValue): EvaluationLine {
  const isOtherQuantity = near.characteristic !== ready.requirement.characteristic;
  const reason = [
    `${ready.name} is asked for; reported is ${requirementName(near)}${isOtherQuantity ? ', which is a different quantity' : ''}`,
    ...(near.doubt === null ? [] : [near.doubt]),
  ].join('; ');
  return unjudged(ready, 'not-comparable', reason, { printed: printedText(near), source: near.source });
}

/** The line of a requirement for which there is nothing at all. */
export function absentLine(ready: ReadyRequirement): EvaluationLine {
  return unjudged(ready, 'not-reported', `${ready.name} is asked for and was not reported`, { printed: null, source: null });
}

function judged(ready: ReadyRequirement, judgement: Judgement, shown: Shown): EvaluationLine {
  const { verdict, compared, margin, nearest, conformanceProbability, rule, reason } = judgement;
  const looksLike = verdict === 'does-not-conform' ? ready.slip(compared) : null;
  return lineOf(ready, shown, { verdict, compared, margin, nearest, conformanceProbability, rule, reason, looksLike });
}

function unjudged(ready: ReadyRequirement, verdict: Verdict, reason: string, shown: Shown): EvaluationLine {
  return lineOf(ready, shown, {
    verdict, compared: null, margin: null, nearest: null, conformanceProbability: null, rule: 'not held against the limits', reason, looksLike: null,
  });
}

type Outcome = Pick<EvaluationLine, 'verdict' | 'compared' | 'margin' | 'nearest' | 'conformanceProbability' | 'rule' | 'reason' | 'looksLike'>;

/** Field by field: lines are made by the ten thousand, and spreading so many fields costs several times as much. */
function lineOf({ place, name, limits, requirement }: ReadyRequirement, { printed, source }: Shown, outcome: Outcome): EvaluationLine {
  const { verdict, compared, margin, nearest, conformanceProbability, rule, reason, looksLike } = outcome;
  return {
    requirement: place, name, limits: limits.words, limitsFrom: 'missing' in limits ? limits.missing : limits.origin, printed, source,
    verdict, compared, margin, nearest, unit: requirement.unit, conformanceProbability, rule, reason, looksLike,
  };
}

function isReportOnly({ limits }: ReadyRequirement): boolean {
  return 'limits' in limits && limits.limits.min === null && limits.limits.max === null;
}

const missingLimits = ({ limits }: ReadyRequirement): string => ('missing' in limits ? limits.missing : 'there are no limits');

const SLIPS_KEPT = 1000;
const NO_SLIP = '';

/** Around the middle of limits with two sides a slip is recognised when it lands within 18 % of it. */
const SLIP_TOLERANCE = decimal('0.18');

/** The slips towards the middle of limits with two sides; limits with one side say nothing of what was expected. */
function slips(limits: EffectiveLimits): (compared: string) => string | null {
  if ('missing' in limits || limits.limits.min === null || limits.limits.max === null) return () => null;
  const middle = over(plus(decimal(limits.limits.min), decimal(limits.limits.max)), ratio(2n));
  const slip = remembering(
    (compared: string) => (/^-?\d+(\.\d+)?$/.test(compared) ? slipOf(decimal(compared), middle, SLIP_TOLERANCE)?.because : undefined) ?? NO_SLIP,
    (compared) => compared, SLIPS_KEPT,
  );
  return (compared) => slip(compared) || null;
}
