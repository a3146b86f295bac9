import { controlChartFactors } from './constants.js';
import { demandSpread } from './control-chart.js';
import { RUN_RULES, type RunRule, type StepRule, ZONE_LINES, type ZoneRule } from './run-rules.js';

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

/**
 * Limits of means and deviations, X̄ ± A3 s̄ and B3 s̄, B4 s̄ (ISO 7870-2; ASTM E2587), of values that lie one after another in
 * subgroups of `size`. Sums run over differences from the first value of each subgroup. Throws RangeError when the values do not
 * fill whole subgroups, one is not finite, or nothing varies within them.
 */
export function subgroupColumns(values: Float64Array, size: number): SubgroupColumns {
  const { c4, B3, B4 } = controlChartFactors(size);
  const count = values.length / size;
  if (!(Number.isSafeInteger(count) && count > 0)) throw new RangeError(`${values.length} values do not fill subgroups of ${size}`);
  const [means, deviations] = [new Float64Array(count), new Float64Array(count)];
  const origin = values[0] ?? NaN;
  let [sum, spread] = [0, 0];
  for (let group = 0, at = 0; group < count; group++) {
    const first = values[at] ?? NaN;
    let [total, squares] = [0, 0];
    for (const end = at + size; at < end; at++) {
      const difference = (values[at] ?? NaN) - first;
      total += difference;
      squares += difference * difference;
    }
    const mean = first + total / size;
    const deviation = Math.sqrt(Math.max(squares - (total * total) / size, 0) / (size - 1));
    means[group] = mean;
    deviations[group] = deviation;
    sum += mean - origin;
    spread += deviation;
  }
  if (!Number.isFinite(sum + spread)) throw new RangeError('not all values are finite');
  const [grandMean, meanDeviation] = [origin + sum / count, spread / count];
  const sigma = meanDeviation / c4;
  demandSpread(sigma, 'the values within the subgroups');
  const standardError = sigma / Math.sqrt(size);
  return {
    means, deviations, grandMean, meanDeviation, sigma, standardError,
    meanLimits: { lower: grandMean - 3 * standardError, upper: grandMean + 3 * standardError },
    deviationLimits: { lower: B3 * meanDeviation, upper: B4 * meanDeviation },
  };
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
  const cells = cellsOf(values, centre, standardError);
  return [...new Set(rules)].map((rule) => {
    const pattern: ZoneRule | StepRule = RUN_RULES[rule];
    return { rule, points: 'inZone' in pattern ? zoneColumn(cells, pattern) : stepColumn(values, pattern) };
  });
}

/** By point the number of lines below it and of lines not above it together: even between two lines, odd on one. */
function cellsOf(values: Float64Array, centre: number, standardError: number): Uint8Array {
  const cells = new Uint8Array(values.length);
  const lines = Float64Array.from(ZONE_LINES, (line) => (line < 0 ? centre - -line * standardError : centre + line * standardError));
  for (let point = 0; point < values.length; point++) {
    const value = values[point] ?? NaN;
    let cell = 0;
    for (const line of lines) cell += Number(value > line) + Number(value >= line);
    cells[point] = cell;
  }
  return cells;
}

function zoneColumn(cells: Uint8Array, rule: ZoneRule): number[] {
  // What the rule says of a value in each cell: half a deviation past a line, or on it.
  const sides = Int8Array.from({ length: 2 * ZONE_LINES.length + 1 }, (_, cell) => rule.inZone({ value: -3.5 + cell / 2, centre: 0, standardError: 1 }));
  const points: number[] = [];
  const window = 2 ** rule.of - 1;
  let [above, below] = [0, 0];
  for (let point = 0; point < cells.length; point++) {
    const side = sides[cells[point] ?? 0] ?? 0;
    above = ((above << 1) | Number(side === 1)) & window;
    below = ((below << 1) | Number(side === -1)) & window;
    if (side !== 0 && bitsOf(side === 1 ? above : below) >= rule.count) points.push(point + 1);
  }
  return points;
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

/** Of up to 16 bits, by pairs, fours, eights and all. */
function bitsOf(bits: number): number {
  const pairs = bits - ((bits >> 1) & 0x5555);
  const fours = (pairs & 0x3333) + ((pairs >> 2) & 0x3333);
  const eights = (fours + (fours >> 4)) & 0x0f0f;
  return (eights + (eights >> 8)) & 0x1f;
}
