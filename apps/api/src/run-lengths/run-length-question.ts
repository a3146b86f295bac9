import type { RunRule } from '#libs/spc';
import { CHART_RULES, type ChartRule } from '../control-charts/control-chart-plan.js';
import { QueryReader, type Query } from '../trace/trace-question.js';

export const RUN_LENGTH_CHARTS = ['shewhart', 'ewma', 'cusum'] as const;

/** Which chart, and how many of them at which pace. */
export interface RunLengthQuestion {
  readonly chart: (typeof RUN_LENGTH_CHARTS)[number];
  readonly rules: readonly RunRule[];
  readonly lambda: number;
  readonly width: number;
  readonly k: number;
  readonly h: number;
  /** Standard deviations of the plotted value by which the process has moved; 0, in control, is always among them. */
  readonly shifts: readonly number[];
  /** Autocorrelation at lag 1 of single values, for `shewhart` with one rule alone. */
  readonly phi: number;
  readonly charts: number;
  readonly minutesAPoint: number | null;
}

const DECIMAL = /^-?\d{1,4}(\.\d{1,6})?$/;
const MOST_SHIFTS = 6;
const LARGEST_SHIFT = 6;
const FARTHEST_PHI = 0.95;
const FIELDS = ['chart', 'rules', 'lambda', 'width', 'k', 'h', 'shifts', 'phi', 'charts', 'minutesAPoint'] as const;
/** Which of them says something of which chart. */
const OF_CHART: Readonly<Record<RunLengthQuestion['chart'], readonly string[]>> = { shewhart: ['rules', 'phi'], ewma: ['lambda', 'width'], cusum: ['k', 'h'] };

/** The question of a query string. Refuses (400) with one entry for each wrong parameter. */
export function runLengthQuestionOf(query: Query): RunLengthQuestion {
  const read = new QueryReader(query, FIELDS);
  const chart = read.choice('chart', RUN_LENGTH_CHARTS, 'shewhart');
  for (const [other, fields] of Object.entries(OF_CHART)) {
    for (const field of fields) if (other !== chart && read.has(field)) read.wrong(field, query[field], `none of the chart ${chart}`);
  }
  const number = (field: string, otherwise: number, from: number, to: number): number => {
    const value = query[field];
    if (value === undefined) return otherwise;
    const parsed = typeof value === 'string' && DECIMAL.test(value) ? Number(value) : NaN;
    if (!(parsed >= from && parsed <= to)) read.wrong(field, value, `a decimal number, ${from} to ${to}`);
    return parsed;
  };
  const rules = rulesOf(read, query);
  const phi = number('phi', 0, -FARTHEST_PHI, FARTHEST_PHI);
  if (phi !== 0 && !(rules.length === 1 && rules[0] === 'oneBeyond3Sigma')) read.wrong('phi', query['phi'], 'only with the rule one-beyond-3-sigma alone: of no other one is the run length of correlated values known');
  const question = {
    chart, rules, lambda: number('lambda', 0.2, 0.03, 1), width: number('width', 3, 0.5, 5), k: number('k', 0.5, 0, 3), h: number('h', 5, 0.1, 15),
    shifts: shiftsOf(read, query), phi, charts: Math.trunc(number('charts', 1, 1, 1_000)), minutesAPoint: query['minutesAPoint'] === undefined ? null : number('minutesAPoint', 1, 0.01, 1_440),
  };
  read.settle();
  return question;
}

function rulesOf(read: QueryReader, query: Query): RunRule[] {
  const text = query['rules'] ?? 'one-beyond-3-sigma';
  const names = typeof text === 'string' ? text.split(',') : [];
  const isKnown = names.length > 0 && new Set(names).size === names.length && names.every((name) => name in CHART_RULES);
  if (!isKnown) read.wrong('rules', text, `rules with commas between, each once: ${Object.keys(CHART_RULES).join(', ')}`);
  return isKnown ? names.map((name) => CHART_RULES[name as ChartRule]) : [];
}

function shiftsOf(read: QueryReader, query: Query): number[] {
  const text = query['shifts'] ?? '0,0.5,1,2,3';
  const shifts = typeof text === 'string' ? text.split(',').map((part) => (DECIMAL.test(part) ? Number(part) : NaN)) : [];
  const isGood = shifts.length > 0 && shifts.length <= MOST_SHIFTS && shifts.every((shift) => Math.abs(shift) <= LARGEST_SHIFT);
  if (!isGood) read.wrong('shifts', text, `1 to ${MOST_SHIFTS} decimal numbers with commas between, -${LARGEST_SHIFT} to ${LARGEST_SHIFT}`);
  return isGood ? [...new Set([0, ...shifts])] : [0];
}
