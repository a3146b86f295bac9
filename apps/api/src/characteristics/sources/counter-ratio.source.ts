import { Injectable } from '@nestjs/common';
import type { Interval } from '#libs/intervals';
import { footageAtReading } from '#libs/length';
import { microseconds } from '#libs/persistence';
import type { ControlChartPlan } from '../../control-charts/control-chart-plan.js';
import type { CounterReading } from '../../line/counter-reading.entity.js';
import { CounterReadingsService } from '../../line/counter-readings.service.js';
import type { StringModel } from '../../line/length-models.service.js';
import { linkOf, READINGS } from '../../recall/record-kinds.js';
import { firstWhere } from '../../signals/block-span.js';
import { footageAtUs, weldLogOf, type WeldLog } from '../../signals/weld-log.js';
import type { CharacteristicReadings, CharacteristicSource } from '../characteristic-source.js';
import type { ChartGround } from '../chart-ground.js';
import { layWindows, windowReadings, type WindowReading } from '../laid-windows.js';

/** One reading of the counter measured, with what the other and the pipe had come to at that instant. */
export interface Counted {
  readonly row: CounterReading;
  readonly atMm: number;
  readonly measuredMm: number;
  readonly againstMm: number;
  /** The periods of both counters: within one of each, lengths compare. */
  readonly periods: string;
}

/** Pipe by one counter over pipe by another, by windows of pipe: 1 while neither slips. */
@Injectable()
export class CounterRatios implements CharacteristicSource {
  readonly characteristic = 'counter-ratio';
  readonly gathering = 'in subgroups';
  readonly brokenBy = ['coil' as const, 'splice' as const, 'stop' as const, 'set-up change' as const];
  readonly leavesOut = true;

  constructor(private readonly counters: CounterReadingsService) {}

  async readings(ground: ChartGround, chart: ControlChartPlan): Promise<CharacteristicReadings> {
    const laid = layWindows(ground, ground.exclusions, chart);
    const [measured = '', against = ''] = chart.characteristic.counters;
    const [ofMeasured, ofAgainst] = await Promise.all([this.rows(ground, measured), this.rows(ground, against)]);
    const counted = countedOf(ground.model, [measured, ofMeasured], [against, ofAgainst]);
    return windowReadings(ground, laid, (window) => ratioIn(counted, laid.windows[window] as Interval));
  }

  private rows({ stringId, asKnownAt, model }: ChartGround, counter: string): Promise<readonly CounterReading[]> {
    return counter === model.string.masterCounter ? Promise.resolve(model.readings) : this.counters.ofCounter(stringId, counter, asKnownAt);
  }
}

/** The other counter is interpolated between its readings; an instant that neither it nor the master counter has readings around is left out. In rising footage. */
function countedOf({ line, string, readings }: StringModel, [measured, rows]: readonly [string, readonly CounterReading[]], [against, others]: readonly [string, readonly CounterReading[]]): Counted[] {
  const [pipe, other] = [logOf(line, string.masterCounter, readings), logOf(line, against, others)];
  return rows.flatMap((row): Counted[] => {
    const atUs = microseconds(row.observedAt);
    const [own, its] = [line.periodAt(measured, atUs), line.periodAt(against, atUs)];
    if (own === null || its === null || !isWithin(pipe, atUs) || !isWithin(other, atUs)) return [];
    return [{
      row, atMm: footageAtUs(pipe, atUs), measuredMm: footageAtReading(own, Number(row.reading)), againstMm: footageAtUs(other, atUs), periods: `${own.record.id} ${its.record.id}`,
    }];
  }).sort((one, next) => one.atMm - next.atMm);
}

const logOf = (line: StringModel['line'], counter: string, readings: readonly CounterReading[]): WeldLog =>
  weldLogOf(line, counter, readings.map(({ observedAt, reading }) => ({ atUs: microseconds(observedAt), reading })));

const isWithin = ({ timesUs }: WeldLog, atUs: number): boolean => atUs >= (timesUs[0] ?? Infinity) && atUs <= (timesUs.at(-1) ?? -Infinity);

/** From the first to the last instant in a window. @param counted in rising footage */
export function ratioIn(counted: readonly Counted[], { fromMm, toMm }: Interval): WindowReading {
  const from = firstWhere(0, counted.length, (index) => (counted[index] as Counted).atMm >= fromMm);
  const own = counted.slice(from, firstWhere(from, counted.length, (index) => (counted[index] as Counted).atMm > toMm));
  const [first, last] = [own[0], own.at(-1)];
  const records = [first, last].filter((one) => one !== undefined).map(({ row }) => linkOf(READINGS, row));
  if (first === undefined || last === undefined || first === last) return { because: 'fewer than two readings that both counters have', records };
  if (first.periods !== last.periods) return { because: 'a counter began another period within it', records };
  const againstMm = last.againstMm - first.againstMm;
  if (againstMm <= 0) return { because: 'no pipe by the counter that it is held against', records };
  return { values: [(last.measuredMm - first.measuredMm) / againstMm], records };
}
