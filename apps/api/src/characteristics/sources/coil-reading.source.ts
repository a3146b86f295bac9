import { Injectable } from '@nestjs/common';
import type { Interval } from '#libs/intervals';
import type { ControlChartPlan } from '../../control-charts/control-chart-plan.js';
import { placeOf } from '../../incoming-checks/incoming-check.rules.js';
import type { IncomingCheck } from '../../incoming-checks/incoming-check.entity.js';
import { IncomingChecksService } from '../../incoming-checks/incoming-checks.service.js';
import { CHECKS, linkOf } from '../../recall/record-kinds.js';
import type { CharacteristicReading, CharacteristicReadings, CharacteristicSource, LeftOutReading } from '../characteristic-source.js';
import type { ChartGround } from '../chart-ground.js';
import { chartValue } from '../chart-value.js';
import { wholeSubgroups } from '../whole-subgroups.js';

/**
 * Readings of incoming strip, coil by coil in the order of the pipe. They were made on the whole coil before it became pipe, so that no
 * splice, stop or set-up breaks their row; a subgroup is of one coil.
 */
@Injectable()
export class CoilReadings implements CharacteristicSource {
  readonly characteristic = 'coil-reading';
  readonly gathering = 'in subgroups';
  readonly brokenBy = [];
  readonly leavesOut = false;

  constructor(private readonly checks: IncomingChecksService) {}

  async readings(ground: ChartGround, { characteristic, unit, subgroup }: ControlChartPlan): Promise<CharacteristicReadings> {
    const coils = coilsOf(ground);
    const rows = await this.checks.ofCharacteristic([...coils.keys()], characteristic.name ?? '', ground.asKnownAt);
    const order = new Map([...coils.keys()].map((id, index) => [id, index]));
    const inOrder = rows.toSorted((one, other) => (order.get(one.coilId) ?? 0) - (order.get(other.coilId) ?? 0));
    const [found, leftOut]: [CharacteristicReading[], LeftOutReading[]] = [[], []];
    for (const row of inOrder) readingsOf(row, coils.get(row.coilId) ?? null, ground.coilNumbers.get(row.coilId) ?? '', unit, found, leftOut);
    const checked = new Set(inOrder.filter(({ readings }) => readings.length > 0).map(({ coilId }) => coilId));
    for (const [id, place] of coils) if (!checked.has(id)) leftOut.push({ place, records: [], because: `coil ${ground.coilNumbers.get(id) ?? ''}: no ${characteristic.name ?? ''} on record` });
    return wholeSubgroups(found, subgroup?.size ?? 1, 'coil', leftOut);
  }
}

/** The coils that the pipe asked about was made of, with their first pipe on it; behind them those that are on the string and are no pipe yet. */
function coilsOf({ segments, splices, interval }: ChartGround): ReadonlyMap<string, Interval | null> {
  const coils = new Map<string, Interval | null>();
  for (const { coilId, span } of segments) {
    if (span.fromMm < interval.toMm && interval.fromMm < span.toMm && !coils.has(coilId)) coils.set(coilId, span);
  }
  const made = new Set(segments.map(({ coilId }) => coilId));
  for (const id of splices.flatMap(({ leavingCoilId, enteringCoilId }) => [leavingCoilId, enteringCoilId])) if (!made.has(id)) coils.set(id, null);
  return coils;
}

function readingsOf(row: IncomingCheck, place: Interval | null, coil: string, chartUnit: string, found: CharacteristicReading[], leftOut: LeftOutReading[]): void {
  const records = [linkOf(CHECKS, row)];
  for (const reading of row.readings) {
    const value = chartValue(reading.printed, row.unit, chartUnit);
    if (typeof value === 'string') leftOut.push({ place, records, because: `coil ${coil}, ${placeOf(reading)}: ${value}` });
    else found.push({ place, values: [value], of: null, observedAt: row.observedAt, records, label: coil, coil });
  }
}
