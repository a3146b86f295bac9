import { Injectable } from '@nestjs/common';
import type { Interval } from '#libs/intervals';
import { shortestDecimal, type Summary } from '#libs/signals';
import type { ControlChartPlan, WindowStatistic } from '../../control-charts/control-chart-plan.js';
import { CHANNELS, INSPECTION_RUNS, linkOf, SIGNAL_MARKS } from '../../recall/record-kinds.js';
import { SignalMarksService } from '../../signal-marks/signal-marks.service.js';
import { SignalStretches, type PlacedSignal } from '../../signals/signal-stretches.service.js';
import { WindowSummaries, type WindowFigures } from '../../signals/window-summaries.service.js';
import type { RecordLink } from '../../trace/trace.dto.js';
import type { CharacteristicReadings, CharacteristicSource } from '../characteristic-source.js';
import { BOUNDARY_KINDS, STILL_TO_BE_MADE, type ChartExclusion, type ChartGround } from '../chart-ground.js';
import { conversionTo } from '../chart-value.js';
import { layWindows, windowReadings, type WindowReading } from '../laid-windows.js';
import { reachesOf } from '../window-reaches.js';

/** What one channel shows, window by window, in the unit of the chart; NaN where nothing was counted. */
interface ChannelWindows {
  /** Why one without a value has none. */
  readonly because: string;
  readonly values: Float64Array;
  readonly recordsOf: (window: number) => readonly RecordLink[];
}

/** Windows, and how far summaries may reach beyond each; null: not at all. */
interface Asked {
  readonly windows: readonly Interval[];
  readonly reaches: readonly Interval[] | null;
}

/** An extreme of a window is never lost; it may be of pipe just beside it. */
const isExtreme = ({ characteristic: { statistic } }: ControlChartPlan): boolean => statistic === 'least' || statistic === 'greatest';

/** Channels by windows of pipe: of one channel in subgroups, of several a vector a window. */
@Injectable()
export class ChannelReadings implements CharacteristicSource {
  readonly characteristic = 'channel';
  readonly gathering = 'in subgroups';
  readonly brokenBy = BOUNDARY_KINDS;
  readonly leavesOut = true;

  constructor(
    private readonly stretches: SignalStretches,
    private readonly marks: SignalMarksService,
    private readonly windows: WindowSummaries,
  ) {}

  /** Throws as `SignalStretches.of`. */
  async readings(ground: ChartGround, chart: ControlChartPlan): Promise<CharacteristicReadings> {
    const { channelIds } = chart.characteristic;
    const exclusions = [...ground.exclusions, ...await this.marked(ground, channelIds)];
    const laid = layWindows(ground, exclusions, chart);
    const channels: ChannelWindows[] = [];
    const reaches = isExtreme(chart) ? reachesOf(laid.windows, ground.interval, ground.boundaries, exclusions) : null;
    for (const id of channelIds) channels.push(await this.shown(ground, id, { windows: laid.windows, reaches }, chart));
    return windowReadings(ground, laid, (window) => asFarAsMade(shownIn(channels, window), laid.windows[window]?.fromMm ?? 0, ground));
  }

  /** Pipe whose samples of any of the channels count as no inspection, or make no indication. */
  private async marked({ stringId, asKnownAt }: ChartGround, channelIds: readonly string[]): Promise<ChartExclusion[]> {
    const marks = await this.marks.onString(stringId, asKnownAt);
    return marks.filter((mark) => mark.channelIds.some((id) => channelIds.includes(id)))
      .map((mark) => ({ ...mark.span, because: `marked as ${mark.effect}: ${mark.cause}`, record: linkOf(SIGNAL_MARKS, mark) }));
  }

  private async shown({ stringId, asKnownAt }: ChartGround, channelId: string, { windows, reaches }: Asked, { characteristic, unit }: ControlChartPlan): Promise<ChannelWindows> {
    const placed = await this.stretches.of(stringId, channelId, asKnownAt);
    const figures = await this.windows.of(placed, windows, reaches);
    // Of several channels each is in its own unit.
    const conversion = characteristic.channelIds.length > 1 ? (value: number) => value : conversionTo(unit, placed.channel.unit);
    const because = typeof conversion === 'string' ? conversion : `${characteristic.statistic === 'spread' ? 'not two samples' : 'nothing'} of a window was read by ${placed.channel.name}`;
    const valueOf = valueIn(characteristic.statistic ?? 'mean', typeof conversion === 'string' ? () => NaN : conversion);
    return { because, values: Float64Array.from(windows, (_, index) => valueOf(figures.summary(index))), recordsOf: recordsOf(placed, figures) };
  }
}

/** A spread is a difference: a conversion between temperatures moves none. */
function valueIn(statistic: WindowStatistic, conversion: (value: number) => number): (summary: Summary | null) => number {
  return (summary) => {
    const value = summary === null ? NaN : statisticOf(summary, statistic);
    if (Number.isNaN(value)) return NaN;
    return statistic === 'spread' ? conversion(value) - conversion(0) : conversion(value);
  };
}

/**
 * Of values that were read; extremes over the bounds of saturated ones too, as the decimals that they were read as: 4.7 kept as a single
 * is below a specification of 4.7. NaN where there are too few for it.
 */
export function statisticOf({ n, mean, squares, least, greatest }: Summary, statistic: WindowStatistic): number {
  switch (statistic) {
    case 'mean': return n === 0 ? NaN : mean;
    case 'least': return shortestDecimal(least?.value ?? NaN);
    case 'greatest': return shortestDecimal(greatest?.value ?? NaN);
    case 'spread': return n < 2 ? NaN : Math.sqrt(squares / (n - 1));
  }
}

/** The channel and the runs that read a window: one list for all windows of the same runs. */
function recordsOf({ channel, runs }: PlacedSignal, figures: WindowFigures): (window: number) => readonly RecordLink[] {
  const known = new Map<readonly string[], readonly RecordLink[]>();
  return (window) => {
    const ids = figures.runsOf(window);
    const records = known.get(ids) ?? [linkOf(CHANNELS, channel), ...ids.flatMap((id) => {
      const run = runs.get(id);
      return run === undefined ? [] : [linkOf(INSPECTION_RUNS, run)];
    })];
    known.set(ids, records);
    return records;
  };
}

/** Of pipe that is still to be made nobody says that it was not read. */
const asFarAsMade = (reading: WindowReading, fromMm: number, { madeMm }: Pick<ChartGround, 'madeMm'>): WindowReading =>
  ('because' in reading && fromMm >= madeMm ? { because: STILL_TO_BE_MADE, records: [] } : reading);

/** One value of each channel; why, where one shows nothing. */
function shownIn(channels: readonly ChannelWindows[], window: number): WindowReading {
  const blind = channels.find(({ values }) => Number.isNaN(values[window]));
  if (blind !== undefined) return { because: blind.because, records: blind.recordsOf(window) };
  const [first] = channels;
  const records = channels.length === 1 && first !== undefined ? first.recordsOf(window) : channels.flatMap(({ recordsOf: of }) => of(window));
  return { values: channels.map(({ values }) => values[window] as number), records };
}
