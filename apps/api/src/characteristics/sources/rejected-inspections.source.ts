import { Injectable } from '@nestjs/common';
import type { ControlChartPlan } from '../../control-charts/control-chart-plan.js';
import { InspectionsService } from '../../inspections/inspections.service.js';
import { INSPECTIONS, linkOf } from '../../recall/record-kinds.js';
import type { CharacteristicReadings, CharacteristicSource } from '../characteristic-source.js';
import { COUNTS_BROKEN_BY, type ChartGround } from '../chart-ground.js';
import { countedOn } from '../counted-lengths.js';

/** How many of the inspections that begin on a length were rejected. */
@Injectable()
export class RejectedInspections implements CharacteristicSource {
  readonly characteristic = 'rejected-inspections';
  readonly gathering = 'points';
  readonly brokenBy = COUNTS_BROKEN_BY;
  readonly leavesOut = true;

  constructor(private readonly inspections: InspectionsService) {}

  async readings(ground: ChartGround, { characteristic: { name, windowMm } }: ControlChartPlan): Promise<CharacteristicReadings> {
    const rows = await this.inspections.beginningOn(ground.stringId, name, ground.interval, ground.asKnownAt);
    const events = rows.map((row) => ({ span: row.span, record: linkOf(INSPECTIONS, row), isRejected: row.verdict === 'rejected' }));
    return countedOn(ground, windowMm, events, (_, own) =>
      (own.length === 0 ? 'nothing was inspected' : { count: own.filter(({ isRejected }) => isRejected).length, of: own.length }));
  }
}
