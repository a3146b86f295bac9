import { PANELS_OF } from '#libs/charting';
import { compare, decimal } from '#libs/exact';
import type { SignalRuleName } from '../charting/chart-design.js';
import type { ChartSpecification, ControlChartPlan } from '../control-charts/control-chart-plan.js';
import type { FieldProblem } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';
import type { AnsweredSignalPart, ChartReactionInput } from './chart-reaction.dto.js';
import type { AnsweredSignal, ChartReaction } from './chart-reaction.entity.js';

type Said = Omit<ChartReactionInput, 'observedAt' | 'stringId' | 'chartId' | 'limitsId'>;

/** A reaction as people name it. */
export const reactionLabel = ({ action, observedAt }: Pick<ChartReaction, 'action' | 'observedAt'>): string => `${action} of ${observedAt}`;

/** A signal that is answered, as a column. */
export const answeredSignal = ({ panel, rule, fromMm, toMm, label }: AnsweredSignalPart): AnsweredSignal =>
  ({ panel, rule, fromMm: fromMm ?? null, toMm: toMm ?? null, label: label ?? null });

/** What of a reaction does not go together, field by field. */
export function reactionFaults(said: Said): FieldProblem[] {
  return [...said.answers.flatMap(answerFaults), ...repeatFaults(said), ...footageFaults('watchFromMm', 'watchToMm', said.watchFromMm ?? null, said.watchToMm ?? null), ...actionFaults(said)];
}

function answerFaults({ fromMm = null, toMm = null, label = null }: AnsweredSignalPart, index: number): FieldProblem[] {
  const at = (name: string): string => `answers[${index}].${name}`;
  if (fromMm === null && toMm === null) return label === null ? [{ field: at('label'), value: null, limit: 'a label, of a point that has no place' }] : [];
  return footageFaults(at('fromMm'), at('toMm'), fromMm, toMm);
}

function footageFaults(fromField: string, toField: string, fromMm: number | null, toMm: number | null): FieldProblem[] {
  if (fromMm === null) return toMm === null ? [] : [{ field: fromField, value: null, limit: 'a footage beside the end' }];
  if (toMm === null) return [{ field: toField, value: null, limit: 'a footage beside the beginning' }];
  return toMm > fromMm ? [] : [{ field: toField, value: toMm, limit: `a footage above ${fromMm} mm: the interval is half-open` }];
}

/** Every reaction plan asks to find out whether the reading is real: by repeating it, or with the reason why not. */
function repeatFaults({ reading, repeatedValue = null, repeatedWithInstrumentId = null, notRepeatedBecause = null }: Said): FieldProblem[] {
  const isRepeated = repeatedValue !== null;
  return [
    ...(isRepeated && reading === 'not-repeated' ? [{ field: 'reading', value: reading, limit: 'real or not-real, beside a repeated value' }] : []),
    ...(isRepeated && notRepeatedBecause !== null ? [{ field: 'notRepeatedBecause', value: notRepeatedBecause, limit: 'only where there is no repeated value' }] : []),
    ...(!isRepeated && notRepeatedBecause === null ? [{ field: 'notRepeatedBecause', value: null, limit: 'a repeated value, or why there is none' }] : []),
    ...(!isRepeated && repeatedWithInstrumentId !== null ? [{ field: 'repeatedWithInstrumentId', value: repeatedWithInstrumentId, limit: 'an instrument only beside a repeated value' }] : []),
  ];
}

function actionFaults({ action, did = null, nonconformanceId = null }: Said): FieldProblem[] {
  return [
    ...((action === 'adjusted' || action === 'stopped') && did === null ? [{ field: 'did', value: null, limit: `what was done, where the line was ${action}` }] : []),
    ...((action === 'nonconformance') === (nonconformanceId !== null) ? [] : [{ field: 'nonconformanceId', value: nonconformanceId, limit: 'the nonconformance that it led to, and none beside another action' }]),
  ];
}

/** Answers to signals that the chart of some limits never gives: on a panel it has not, or by a rule that it does not ask about there. */
export function strangeAnswers({ answers }: Pick<Said, 'answers'>, { chart, rules }: Pick<ControlChartPlan, 'chart' | 'rules'>): FieldProblem[] {
  const panels = PANELS_OF[chart];
  return answers.flatMap(({ panel, rule }, index): FieldProblem[] => {
    if (!panels.includes(panel)) return [{ field: `answers[${index}].panel`, value: panel, limit: `a panel of a chart ${chart}: ${panels.join(', ')}` }];
    // Rules are asked about on the first panel, where there are any; elsewhere what lies beyond a limit signals.
    const may: readonly SignalRuleName[] = panel === panels[0] && rules.length > 0 ? rules : ['beyond-limit'];
    return may.includes(rule) ? [] : [{ field: `answers[${index}].rule`, value: rule, limit: `of ${panel} ${may.join(', ')}` }];
  });
}

/** Pipe of a reaction that lies beyond what its string can have. */
export function beyondString({ answers, watchToMm = null }: Pick<Said, 'answers' | 'watchToMm'>, footageLimitMm: number): FieldProblem[] {
  const ends = [...answers.map(({ toMm = null }, index) => ({ field: `answers[${index}].toMm`, value: toMm })), { field: 'watchToMm', value: watchToMm }];
  return ends.flatMap(({ field, value }) => (value !== null && value > footageLimitMm ? [{ field, value, limit: `at most ${footageLimitMm} mm, the footage of the string` }] : []));
}

type Answering = Pick<ChartReaction, 'repeatedValue' | 'limitsId'>;

/** A repeated value beyond the specification is taken and marked, and so is an answer to signals against limits that were withdrawn. */
export function reactionFindings({ repeatedValue, limitsId }: Answering, specification: Pick<ChartSpecification, 'lower' | 'upper'> | null, areLimitsVoid: boolean): Finding[] {
  return [
    ...(repeatedValue === null || specification === null ? [] : beyond(repeatedValue, specification)),
    ...(areLimitsVoid ? [{ tier: 'noted', field: 'limitsId', value: limitsId, limit: 'limits that were not withdrawn' } as const] : []),
  ];
}

function beyond(value: string, { lower, upper }: Pick<ChartSpecification, 'lower' | 'upper'>): Finding[] {
  const found = (limit: string): Finding => ({ tier: 'out-of-specification', field: 'repeatedValue', value, limit });
  if (lower !== null && compare(decimal(value), decimal(lower)) < 0) return [found(`at least ${lower}, the specification of the chart`)];
  return upper !== null && compare(decimal(value), decimal(upper)) > 0 ? [found(`at most ${upper}, the specification of the chart`)] : [];
}
