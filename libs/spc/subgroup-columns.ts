import { controlChartFactors } from './constants.js';
import { demandSpread } from './control-chart.js';
import { RUN_RULES, type RunRule, type StepRule, type ZoneRule } from './run-rules.js';
import { zoneAutomaton, ZoneLines } from './zone-automaton.js';

/** Charts of very many equal subgroups, without an object for each point: the same figures as `meanDeviationCharts` gives. */
export interface SubgroupColumns {
  readonly means: Float64Array;
  /** Sample standard deviations of the subgroups. */
  readonly deviations: Float64Array;
  readonly grandMean: number;
  readonly meanDeviation: number;
  readonly sigma: number;
  /** Of a subgroup's mean. */
  readonly standardError: number;
  readonly meanLimits: { readonly lower: number; readonly upper: number };
  readonly deviationLimits: { readonly lower: number; readonly upper: number };
}

/** Where means and deviations of subgroups go. */
export type ColumnRoom = Pick<SubgroupColumns, 'means' | 'deviations'>;

/**
 * Limits of means and deviations, X̄ ± A3 s̄ and B3 s̄, B4 s̄ (ISO 7870-2; ASTM E2587), of values that lie one after another in
 * subgroups of `size`. Sums run over differences from the first value of each subgroup. The columns are written into `room`, as into
 * those of charts that nobody looks at any more: new memory takes as long as all the rest; new ones if not given. Throws RangeError
 * when the values do not fill whole subgroups, one is not finite, nothing varies within them, or the room is not of their number.
 */
export function subgroupColumns(values: Float64Array, size: number, room?: ColumnRoom): SubgroupColumns {
  const { c4, B3, B4 } = controlChartFactors(size);
  const count = values.length / size;
  if (!(Number.isSafeInteger(count) && count > 0)) throw new RangeError(`${values.length} values do not fill subgroups of ${size}`);
  const { means, deviations } = room ?? { means: new Float64Array(count), deviations: new Float64Array(count) };
  if (means.length !== count || deviations.length !== count) throw new RangeError(`no room for ${count} subgroups: ${means.length} and ${deviations.length}`);
  let [sum, spread] = [0, 0];
  for (let from = 0; from < count; from += BLOCK) {
    const block = momentsOf(values, size, { means, deviations }, from);
    [sum, spread] = [sum + block.sum, spread + block.spread];
  }
  if (!Number.isFinite(sum + spread)) throw new RangeError('not all values are finite');
  const [grandMean, meanDeviation] = [(values[0] ?? NaN) + sum / count, spread / count];
  const sigma = meanDeviation / c4;
  demandSpread(sigma, 'the values within the subgroups');
  const standardError = sigma / Math.sqrt(size);
  return {
    means, deviations, grandMean, meanDeviation, sigma, standardError,
    meanLimits: { lower: grandMean - 3 * standardError, upper: grandMean + 3 * standardError },
    deviationLimits: { lower: B3 * meanDeviation, upper: B4 * meanDeviation },
  };
}

/** Subgroups in one go: what is called often is soon compiled as a whole, and one long loop is not. */
const BLOCK = 1024;

/**
 * A block of subgroups, from that one on: the sum of their means, less the first value of all each, and that of their deviations. It
 * multiplies where it could divide and has no destructuring inside the loop, each of which makes it twice as fast.
 */
function momentsOf(values: Float64Array, size: number, { means, deviations }: ColumnRoom, from: number): { readonly sum: number; readonly spread: number } {
  const [origin, share, degree] = [values[0] ?? NaN, 1 / size, 1 / (size - 1)];
  const end = Math.min(from + BLOCK, means.length);
  let sum = 0;
  let spread = 0;
  for (let group = from, at = from * size; group < end; group++) {
    const first = values[at] ?? NaN;
    let total = 0;
    let squares = 0;
    for (const last = at++ + size; at < last; at++) {
      const difference = (values[at] ?? NaN) - first;
      total += difference;
      squares += difference * difference;
    }
    const mean = first + total * share;
    const deviation = Math.sqrt(Math.max(squares - total * total * share, 0) * degree);
    means[group] = mean;
    deviations[group] = deviation;
    sum += mean - origin;
    spread += deviation;
  }
  return { sum, spread };
}

/** The numbers, from 1, of the values strictly beyond limits that all of them share, as `pointsBeyond` says them of points. */
export function columnBeyond(values: Float64Array, { lower, upper }: SubgroupColumns['meanLimits']): number[] {
  const points: number[] = [];
  for (let index = 0; index < values.length; index++) {
    const value = values[index] ?? NaN;
    if (value < lower || value > upper) points.push(index + 1);
  }
  return points;
}

export interface ColumnSignals {
  readonly rule: RunRule;
  /** The points at which it signals, from 1. */
  readonly points: readonly number[];
}

/**
 * Where rules signal on points that share one centre and one standard error: the same as `runSignals` says, by rule. Throws
 * RangeError when the standard error is not above 0 or the centre is not finite; values are taken for finite.
 */
export function columnSignals(values: Float64Array, centre: number, standardError: number, rules: readonly RunRule[]): ColumnSignals[] {
  demandSpread(standardError, 'the points');
  if (!Number.isFinite(centre)) throw new RangeError(`not a finite centre: ${centre}`);
  const asked = [...new Set(rules)];
  const zoneRules = asked.flatMap((rule) => zoneRuleOf(rule) ?? []);
  const ofZones = zoneAutomaton(asked.filter((rule) => zoneRuleOf(rule) !== null), zoneRules).signals(values, new ZoneLines(centre, standardError));
  return asked.map((rule) => {
    const pattern: ZoneRule | StepRule = RUN_RULES[rule];
    return { rule, points: 'inZone' in pattern ? ofZones[zoneRules.indexOf(pattern)] ?? [] : stepColumn(values, pattern) };
  });
}

function zoneRuleOf(rule: RunRule): ZoneRule | null {
  const pattern: ZoneRule | StepRule = RUN_RULES[rule];
  return 'inZone' in pattern ? pattern : null;
}

function stepColumn(values: Float64Array, { points: length, alternating }: StepRule): number[] {
  const points: number[] = [];
  let [steps, direction] = [0, 0];
  for (let point = 1; point < values.length; point++) {
    const next = Math.sign((values[point] ?? NaN) - (values[point - 1] ?? NaN));
    const goesOn = next !== 0 && direction !== 0 && (next === direction) !== alternating;
    steps = goesOn ? steps + 1 : Math.abs(next);
    direction = next;
    if (steps >= length - 1) points.push(point + 1);
  }
  return points;
}
