import { interval, type Interval } from '#libs/intervals';
import { windowsOf } from '#libs/subgroups';
import type { ControlChartPlan } from '../control-charts/control-chart-plan.js';
import type { RecordLink } from '../trace/trace.dto.js';
import type { CharacteristicReading, CharacteristicReadings, LeftOutReading } from './characteristic-source.js';
import { coilAt, type ChartExclusion, type ChartGround } from './chart-ground.js';
import { SINGLE } from './row-points.js';

/** Windows of pipe, of which each makes a reading, in whole subgroups. */
export interface LaidOut {
  /** In rising footage, none overlapping; so many in a row as a subgroup has. */
  readonly windows: readonly Interval[];
  readonly size: number;
  readonly leftOut: readonly LeftOutReading[];
}

/** What a window comes to, or why to nothing. */
export type WindowReading =
  | { readonly values: readonly number[]; readonly records: readonly RecordLink[] }
  | { readonly because: string; readonly records: readonly RecordLink[] };

/** The windows of a chart on its ground. Throws RangeError when the chart has no length of a window. */
export function layWindows(ground: Pick<ChartGround, 'interval' | 'boundaries'>, exclusions: readonly ChartExclusion[], { characteristic: { windowMm }, subgroup }: Pick<ControlChartPlan, 'characteristic' | 'subgroup'>): LaidOut {
  const plan = subgroup ?? SINGLE;
  const { subgroups, leftOut } = windowsOf(ground.interval, ground.boundaries, exclusions, plan, windowMm ?? 0);
  return {
    windows: subgroups.flatMap(({ windows }) => windows), size: plan.size,
    leftOut: leftOut.map(({ place, because }) => ({ place, because, records: recordsBehind(exclusions, place, because) })),
  };
}

function recordsBehind(exclusions: readonly ChartExclusion[], place: Interval, because: string): readonly RecordLink[] {
  const found = exclusions.find((one) => one.because === because && one.fromMm < place.toMm && place.fromMm < one.toMm);
  return found?.record == null ? [] : [found.record];
}

/** The readings of all windows; a subgroup of which one has none is left out as a whole. @param readingOf by the number of the window */
export function windowReadings(ground: ChartGround, { windows, size, leftOut }: LaidOut, readingOf: (window: number) => WindowReading): CharacteristicReadings {
  const readings: CharacteristicReading[] = [];
  const without: LeftOutReading[] = [];
  for (let from = 0; from < windows.length; from += size) {
    const own = Array.from({ length: size }, (_, index) => readingOf(from + index));
    const blind = own.find((one) => 'because' in one);
    if (blind !== undefined) {
      without.push({ place: interval(windows[from]?.fromMm ?? 0, windows[from + size - 1]?.toMm ?? 0), because: blind.because, records: blind.records });
      continue;
    }
    own.forEach((one, index) => {
      if ('values' in one) readings.push(readingIn(ground, windows[from + index] as Interval, one.values, one.records));
    });
  }
  return { readings, leftOut: [...leftOut, ...without] };
}

const readingIn = (ground: ChartGround, place: Interval, values: readonly number[], records: readonly RecordLink[]): CharacteristicReading =>
  ({ place, values, of: null, observedAt: null, records, label: '', coil: coilAt(ground, place) });
