import { adviceOn, charted, trialLimits, withoutPoints, type Advice, type Charted, type ChartLimits } from '#libs/charting';
import type { ChartRow, RowPoint } from '../characteristics/chart-row.js';
import { hullOf } from '../characteristics/row-points.js';
import type { ControlChartPlan } from '../control-charts/control-chart-plan.js';
import type { FrozenRecord } from '../releases/frozen-evidence.js';
import { betterChart, type BetterChart } from './better-chart.js';
import { designOf } from './chart-design.js';
import type { ChartStudy, LeftOutCount, StudyPoint } from './frozen-study.js';
import { RecordPlaces } from './record-places.js';
import { isRemoved, type Removal } from './row-places.js';
import { eachOfPattern, signallingPoint } from './signal-points.js';

/** What limits are found from. */
export interface Studying {
  readonly chart: FrozenRecord;
  readonly plan: ControlChartPlan;
  readonly row: ChartRow;
  readonly removal: Removal;
}

/** Limits that were found, and the points against them. */
export interface Studied {
  readonly limits: ChartLimits;
  /** All points of the row, the removed ones too, against the limits. */
  readonly charted: Charted;
  /** By the places of points in the row. */
  readonly isRemoved: ReadonlySet<number>;
  /** How many coils the points that count are of; null where none is known. */
  readonly coils: number | null;
  readonly advice: Advice;
  readonly better: BetterChart | null;
}

/**
 * Limits from the points of a row that are not removed, with what speaks against them. Throws RangeError, as `trialLimits` does,
 * where there are none to be had.
 */
export function studied({ plan, row, removal }: Studying): Studied {
  const design = designOf(plan);
  const removed = row.points.flatMap((point, index) => (isRemoved(point, removal) ? [{ index, because: 'removed' }] : []));
  const out = new Set(removed.map(({ index }) => index));
  const limits = trialLimits(design, row.points, removed);
  const against = charted(design, limits, row.points, 'trial');
  const series = withoutPoints(row.points, out);
  const coils = coilsOf(series);
  const advice = adviceOn({ design, limits, series, coils, signalling: signallingAmong(against, out) });
  return { limits, charted: against, isRemoved: out, coils, advice, better: betterChart(advice, series) };
}

/** All that limits were found from, as it is signed. */
export function frozenStudy({ chart, plan, row }: Studying, { limits, isRemoved: out, coils, advice }: Studied): ChartStudy {
  const places = new RecordPlaces();
  const points = row.points.map((point, index) => studyPoint(point, out.has(index), places));
  return {
    chart, plan, span: hullOf(row.points), points, records: places.records.map(({ kind, id, version }) => ({ kind, id, version })), leftOut: countedReasons(row), coils, limits,
    lagOne: advice.lagOne, warnings: advice.warnings, better: advice.better.map((one) => one.chart),
  };
}

/** How many points signal without a removed one in the pattern. */
function signallingAmong(against: Charted, out: ReadonlySet<number>): number {
  const signalling = new Set<number>();
  for (const signal of against.signals) {
    let removed = 0;
    eachOfPattern(against, signal, (index) => { removed += out.has(index) ? 1 : 0; });
    if (removed === 0) signalling.add(signallingPoint(against, signal));
  }
  return signalling.size;
}

/** How many coils points are of; null where none is known. */
function coilsOf(points: readonly RowPoint[]): number | null {
  const coils = new Set(points.flatMap(({ coil }) => (coil === null ? [] : [coil])));
  return coils.size === 0 ? null : coils.size;
}

const studyPoint = ({ place, label, coil, values, of, beginsAnew, readings }: RowPoint, out: boolean, places: RecordPlaces): StudyPoint => ({
  fromMm: place?.fromMm ?? null, toMm: place?.toMm ?? null, label, coil, values, of, beginsAnew, isRemoved: out, by: places.ofAll(readings.map(({ records }) => records)),
});

function countedReasons({ leftOut }: ChartRow): LeftOutCount[] {
  const counts = new Map<string, number>();
  for (const { because } of leftOut) counts.set(because, (counts.get(because) ?? 0) + 1);
  return [...counts].map(([because, count]) => ({ because, count }));
}
