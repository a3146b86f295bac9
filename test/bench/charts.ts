import { columnBeyond, type ColumnRoom, columnSignals, subgroupColumns, WESTERN_ELECTRIC_RULES } from '#libs/spc';
import { normalNumbers } from '../fixtures/normal-numbers.js';
import { median } from './load.js';

const SUBGROUPS = 200_000;
export const SIZE = 5;
export const READINGS = SUBGROUPS * SIZE;
const ROUNDS = 41;
const WARM_UP = 20;

/** What is worked out of the readings, as far as another program can be held to it. */
export interface ChartFigures {
  readonly grandMean: number;
  readonly meanDeviation: number;
  /** How many means signal, by the rules of Western Electric one after another, and how many deviations lie beyond their limits. */
  readonly signals: readonly number[];
}

/** Processor time of this process, ms, and as times the pass right before it; medians, and the least and the most ratio. */
export interface ChartSpeed {
  readonly ms: number;
  readonly ratio: number;
  readonly least: number;
  readonly most: number;
}

export interface ChartSpeeds {
  readonly figures: ChartFigures;
  readonly firstMs: number;
  readonly bareMs: number;
  /** Into the columns of charts before. */
  readonly reusing: ChartSpeed;
  /** Into columns of new memory. */
  readonly anew: ChartSpeed;
}

export const chartReadings = (): Float64Array => {
  const normal = normalNumbers(1);
  return Float64Array.from({ length: READINGS }, () => 5 + normal() / 50);
};

/** Limits of means and deviations and all that signals, beside one pass for the mean and the variance of all readings; by turns. */
export function compareCharts(readings: Float64Array): ChartSpeeds {
  const room = { means: new Float64Array(SUBGROUPS), deviations: new Float64Array(SUBGROUPS) };
  const firstMs = cpuMs(() => charted(readings));
  for (let round = 0; round < WARM_UP; round += 1) {
    bareMoments(readings);
    charted(readings);
    charted(readings, room);
  }
  const rounds = Array.from({ length: ROUNDS }, () => ({
    bareMs: cpuMs(() => bareMoments(readings)), reusingMs: cpuMs(() => charted(readings, room)),
    bareAgainMs: cpuMs(() => bareMoments(readings)), anewMs: cpuMs(() => charted(readings)),
  }));
  return {
    figures: charted(readings), firstMs, bareMs: median(rounds.map(({ bareMs }) => bareMs)),
    reusing: speedOf(rounds.map(({ reusingMs, bareMs }) => [reusingMs, bareMs])),
    anew: speedOf(rounds.map(({ anewMs, bareAgainMs }) => [anewMs, bareAgainMs])),
  };
}

function speedOf(rounds: readonly (readonly [ms: number, bareMs: number])[]): ChartSpeed {
  const ratios = rounds.map(([ms, bareMs]) => ms / bareMs);
  return { ms: median(rounds.map(([ms]) => ms)), ratio: median(ratios), least: Math.min(...ratios), most: Math.max(...ratios) };
}

function charted(readings: Float64Array, room?: ColumnRoom): ChartFigures {
  const { means, deviations, grandMean, meanDeviation, standardError, deviationLimits } = subgroupColumns(readings, SIZE, room);
  const ofMeans = columnSignals(means, grandMean, standardError, WESTERN_ELECTRIC_RULES);
  return { grandMean, meanDeviation, signals: [...ofMeans.map(({ points }) => points.length), columnBeyond(deviations, deviationLimits).length] };
}

/** The least that anything has to do which tells how readings spread; over differences, as the charts do. */
function bareMoments(readings: Float64Array): { readonly mean: number; readonly variance: number } {
  const origin = readings[0] ?? NaN;
  const count = readings.length;
  let sum = 0;
  let squares = 0;
  for (let index = 0; index < count; index += 1) {
    const difference = (readings[index] ?? NaN) - origin;
    sum += difference;
    squares += difference * difference;
  }
  return { mean: origin + sum / count, variance: (squares - (sum * sum) / count) / (count - 1) };
}

function cpuMs(work: () => unknown): number {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
}
