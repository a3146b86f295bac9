import { judge, judgeBounds, type Bounds, type Judgement, type JudgeOptions, type Verdict } from '#libs/conformity';
import type { Ratio } from '#libs/exact';
import type { ValueSource } from '#libs/strip';
import { WELD_CHOICE_NAMES, WINDOW, WINDOW_RULE, type WeldList, type WeldRange } from './procedure.js';
import type { NotComputable } from './quantity.js';
import { findWeldVariable } from './weld-variable.js';
import { reportedText, variableOf, type ChosenValue, type WeldValue } from './weld-value.js';

/** One value beside what the procedure allows. */
export interface ProcedureLine {
  /** Code of the variable or choice, and its plain name. */
  readonly subject: string;
  readonly name: string;
  /** What is allowed, in words; null where the procedure says nothing of it. */
  readonly limits: string | null;
  /** As reported, with its unit; null when nothing was. */
  readonly reported: string | null;
  readonly source: ValueSource | null;
  /** 'not-limited' is no verdict: nothing was asked of the value, and it says nothing of the whole. */
  readonly verdict: Verdict | 'not-limited';
  /** As compared, in `unit`; null when it was not. */
  readonly compared: string | null;
  /** Distance to the nearest limit, positive inside, in `unit`. */
  readonly margin: string | null;
  readonly nearest: 'min' | 'max' | null;
  /** The unit of the range; null for choices, and where there is no range. */
  readonly unit: string | null;
  /** The procedure and what of it decided. */
  readonly decidedBy: string;
  readonly rule: string;
  readonly reason: string | null;
}

const OPTIONS: JudgeOptions = { toDecimals: null, expandedU: null };
const LIST_RULE = 'one of those listed, letter for letter';
const NO_RULE = 'not held against anything';

/** The lines of one range for the values of its variable, in their order; where there is none, a line that says so. Throws as `judge` does. */
export function rangeLines(procedure: string, range: WeldRange): (values: readonly WeldValue[]) => ProcedureLine[] {
  const limits = rangeText(range);
  const base: ProcedureLine = {
    ...blank(range.variable, variableName(range.variable)), limits, unit: range.unit,
    decidedBy: `${procedure}: ${range.variable} ${limits}`, rule: WINDOW_RULE,
  };
  const outcomeOf = rangeJudge(range);
  const lineOf = (value: WeldValue): ProcedureLine => ({ ...base, reported: reportedText(value), source: value.source, ...outcomeOf(value) });
  return (values) => (values.length === 0 ? [notReported(base)] : values.map(lineOf));
}

/** The lines of one list for what was chosen, in that order; where nothing was, one that says so. */
export function listLines(procedure: string, { choice, allowed }: WeldList): (values: readonly ChosenValue[]) => ProcedureLine[] {
  const limits = allowed.join(', ');
  const base: ProcedureLine = {
    ...blank(choice, WELD_CHOICE_NAMES[choice]), limits, decidedBy: `${procedure}: ${choice} ${limits}`, rule: LIST_RULE,
  };
  const lineOf = ({ value, source }: ChosenValue): ProcedureLine => {
    const shown = { ...base, reported: value, source, compared: value };
    if (allowed.includes(value)) return { ...shown, verdict: 'conforms', reason: null };
    return { ...shown, verdict: 'does-not-conform', reason: `${value} is not among ${limits}` };
  };
  return (values) => (values.length === 0 ? [notReported(base)] : values.map(lineOf));
}

/** The line of a measured or computed value without a range. */
export function unlimitedValueLine(procedure: string, value: WeldValue): ProcedureLine {
  const variable = variableOf(value);
  const reason = 'energy' in value && 'notComputable' in value.energy ? value.energy.notComputable : null;
  const named = blank(variable, variableName(variable));
  return { ...named, reported: reportedText(value), source: value.source, decidedBy: `${procedure} has no range for it`, reason };
}

/** The line of a choice without a list. */
export function unlimitedChoiceLine(procedure: string, { choice, value, source }: ChosenValue): ProcedureLine {
  return { ...blank(choice, WELD_CHOICE_NAMES[choice]), reported: value, source, decidedBy: `${procedure} has no list for it` };
}

type Outcome = Pick<ProcedureLine, 'verdict' | 'compared' | 'margin' | 'nearest' | 'rule' | 'reason'>;

function rangeJudge(range: WeldRange): (value: WeldValue) => Outcome {
  const [ofReading, ofBounds] = [judge(range, WINDOW, OPTIONS), judgeBounds(range, WINDOW, OPTIONS)];
  return (value) => {
    if (!('energy' in value)) return outcomeOf(ofReading({ printed: value.printed, unit: value.unit, multiplier: '1', expandedU: null }));
    const { energy } = value;
    return 'notComputable' in energy ? notComputed(energy) : outcomeOf(ofBounds(exactly(energy.exact), 'kJ/mm'));
  };
}

function outcomeOf({ verdict, compared, margin, nearest, rule, reason }: Judgement): Outcome {
  return { verdict, compared, margin, nearest, rule: `${WINDOW_RULE}. ${rule}`, reason };
}

function notComputed({ notComputable, isMissing }: NotComputable): Outcome {
  const verdict = isMissing ? 'not-reported' : 'not-comparable';
  return { verdict, compared: null, margin: null, nearest: null, rule: WINDOW_RULE, reason: notComputable };
}

function notReported(base: ProcedureLine): ProcedureLine {
  return { ...base, verdict: 'not-reported', reason: `${base.name} is limited and was not reported` };
}

function blank(subject: string, name: string): ProcedureLine {
  return {
    subject, name, limits: null, reported: null, source: null, verdict: 'not-limited', compared: null, margin: null, nearest: null, unit: null,
    decidedBy: '', rule: NO_RULE, reason: null,
  };
}

function exactly(value: Ratio): Bounds {
  return { low: value, high: value, lowOpen: false, highOpen: false, decimals: 0 };
}

const variableName = (code: string): string => findWeldVariable(code)?.name ?? code;

function rangeText({ min, max, unit }: WeldRange): string {
  if (min !== null && max !== null) return `${min} to ${max} ${unit}`;
  if (min !== null) return `at least ${min} ${unit}`;
  return max === null ? 'report only' : `at most ${max} ${unit}`;
}
