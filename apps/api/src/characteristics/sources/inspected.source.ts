import { Injectable } from '@nestjs/common';
import type { ControlChartPlan } from '../../control-charts/control-chart-plan.js';
import type { Inspection } from '../../inspections/inspection.entity.js';
import { InspectionsService } from '../../inspections/inspections.service.js';
import { INSPECTIONS, linkOf } from '../../recall/record-kinds.js';
import type { CharacteristicReading, CharacteristicReadings, CharacteristicSource, LeftOutReading } from '../characteristic-source.js';
import { coilAt, type BoundaryKind, type ChartGround } from '../chart-ground.js';
import { chartValue } from '../chart-value.js';

/** All that makes other pipe of it. Checks and runs are those of channels. */
const BROKEN_BY: readonly BoundaryKind[] = ['coil', 'splice', 're-join', 'cut-out', 'stop', 'set-up change'];

/** A value of inspections, where each was made. */
@Injectable()
export class InspectedValues implements CharacteristicSource {
  readonly characteristic = 'inspected';
  readonly gathering = 'by place';
  readonly brokenBy = BROKEN_BY;
  readonly leavesOut = true;

  constructor(private readonly inspections: InspectionsService) {}

  async readings(ground: ChartGround, { characteristic, unit }: ControlChartPlan): Promise<CharacteristicReadings> {
    const rows = await this.inspections.beginningOn(ground.stringId, characteristic.name, ground.interval, ground.asKnownAt);
    const [readings, leftOut]: [CharacteristicReading[], LeftOutReading[]] = [[], []];
    for (const row of rows) {
      const [value, records] = [valueOf(row, unit), [linkOf(INSPECTIONS, row)]];
      if (typeof value === 'string') leftOut.push({ place: row.span, because: value, records });
      else readings.push({ place: row.span, values: [value], of: null, observedAt: row.observedAt, records, label: '', coil: coilAt(ground, row.span) });
    }
    return { readings, leftOut };
  }
}

const valueOf = ({ value, unit, characteristic }: Inspection, chartUnit: string): number | string =>
  (value === null || unit === null ? `${characteristic} was looked at, and not measured` : chartValue(value, unit, chartUnit));
