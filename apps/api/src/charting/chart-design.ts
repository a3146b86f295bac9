import { CHART_FAMILIES, type ChartDesign, type SignalRule } from '#libs/charting';
import type { SpecificationLimits } from '#libs/spc';
import type { ControlChart } from '../control-charts/control-chart.entity.js';
import { CHART_RULES, type ChartRule, type ChartSpecification, type ControlChartPlan } from '../control-charts/control-chart-plan.js';

/** What of a chart its limits depend on, and nothing else: a title may change without new limits. */
export function planOf(chart: ControlChart): ControlChartPlan {
  const { stringId, characteristic, unit, subgroup, leaveOut, rules, lambda, width, k, h, batchSize, alpha, specification } = chart;
  return { stringId, characteristic, unit, subgroup, leaveOut, chart: chart.chart, rules, lambda, width, k, h, batchSize, alpha, specification };
}

/** The design that a plan says, with its figures as numbers. */
export function designOf(plan: ControlChartPlan): ChartDesign {
  const { chart, rules, batchSize } = plan;
  return { chart, rules: rules.map((rule) => CHART_RULES[rule]), lambda: figure(plan.lambda), width: figure(plan.width), k: figure(plan.k), h: figure(plan.h), batchSize, alpha: figure(plan.alpha) };
}

const figure = (text: string | null): number | null => (text === null ? null : Number(text));

/** The names by which requests and answers know what signals. */
export const SIGNAL_RULES = [...(Object.keys(CHART_RULES) as ChartRule[]), 'beyond-limit'] as const;
export type SignalRuleName = (typeof SIGNAL_RULES)[number];

const NAMES = new Map<SignalRule, SignalRuleName>([...(Object.entries(CHART_RULES) as [ChartRule, SignalRule][]).map(([name, rule]) => [rule, name] as const), ['beyondLimit', 'beyond-limit']]);

export function ruleName(rule: SignalRule): SignalRuleName {
  const name = NAMES.get(rule);
  if (name === undefined) throw new Error(`a rule without a name: ${rule}`);
  return name;
}

/** What one reading may be by the specification, as numbers; null without one. */
export const specified = (specification: ChartSpecification | null): (SpecificationLimits & { readonly target: number | null }) | null =>
  (specification === null ? null : { lower: figure(specification.lower), upper: figure(specification.upper), target: figure(specification.target) });

/** The unit that the points of a chart are in, and with it the specification: those of readings alone. */
export const isOfReadings = ({ chart }: Pick<ControlChartPlan, 'chart'>): boolean => CHART_FAMILIES[chart] === 'subgroups' || CHART_FAMILIES[chart] === 'values';
