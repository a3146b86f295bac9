import { Injectable } from '@nestjs/common';
import type { ControlChartPlan } from '../../control-charts/control-chart-plan.js';
import { linkOf, SPLICE_STEPS, SPLICES } from '../../recall/record-kinds.js';
import type { SpliceStep } from '../../splice-steps/splice-step.entity.js';
import { SpliceStepsService } from '../../splice-steps/splice-steps.service.js';
import type { SpliceVersion } from '../../splices/splice.entity.js';
import type { CharacteristicReading, CharacteristicReadings, CharacteristicSource, LeftOutReading } from '../characteristic-source.js';
import type { ChartGround } from '../chart-ground.js';
import { chartValue } from '../chart-value.js';
import { wholeSubgroups } from '../whole-subgroups.js';

/** Readings of splices, splice by splice along the pipe: a subgroup is of one splice, and its row breaks at a change of set-up alone. */
@Injectable()
export class SpliceReadings implements CharacteristicSource {
  readonly characteristic = 'splice-reading';
  readonly gathering = 'in subgroups';
  readonly brokenBy = ['set-up change' as const];
  readonly leavesOut = false;

  constructor(private readonly steps: SpliceStepsService) {}

  async readings(ground: ChartGround, { characteristic, unit, subgroup }: ControlChartPlan): Promise<CharacteristicReadings> {
    const measured = characteristic.name ?? '';
    const rows = await this.steps.withReading(ground.stringId, measured, ground.asKnownAt);
    const [found, leftOut]: [CharacteristicReading[], LeftOutReading[]] = [[], []];
    for (const splice of ground.splices) {
      if (splice.span.fromMm < ground.interval.fromMm || splice.span.fromMm >= ground.interval.toMm) continue;
      const told = found.length + leftOut.length;
      for (const row of rows) if (row.spliceId === splice.id) readingsOf(row, splice, measured, unit, found, leftOut);
      if (found.length + leftOut.length === told) leftOut.push({ place: splice.span, records: [linkOf(SPLICES, splice)], because: `splice ${splice.number}: no ${measured} on record` });
    }
    return wholeSubgroups(found, subgroup?.size ?? 1, 'splice', leftOut);
  }
}

function readingsOf(row: SpliceStep, splice: SpliceVersion, measured: string, chartUnit: string, found: CharacteristicReading[], leftOut: LeftOutReading[]): void {
  const { span: place, number: label } = splice;
  const records = [linkOf(SPLICE_STEPS, row), linkOf(SPLICES, splice)];
  for (const reading of row.readings) {
    if (reading.measured !== measured) continue;
    const value = chartValue(reading.printed, reading.unit, chartUnit);
    if (typeof value === 'string') leftOut.push({ place, records, because: `splice ${label}: ${value}` });
    else found.push({ place, values: [value], of: null, observedAt: row.observedAt, records, label, coil: null });
  }
}
