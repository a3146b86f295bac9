import { Injectable } from '@nestjs/common';
import type { ControlChartPlan } from '../../control-charts/control-chart-plan.js';
import { linkOf, REPAIRS } from '../../recall/record-kinds.js';
import { RepairsService } from '../../repairs/repairs.service.js';
import type { CharacteristicReadings, CharacteristicSource } from '../characteristic-source.js';
import { COUNTS_BROKEN_BY, type ChartGround } from '../chart-ground.js';
import { countedOn, perLength } from '../counted-lengths.js';

const PER_M = 1_000;

/** How many repairs begin on a length of pipe, for each 1,000 m of it. */
@Injectable()
export class RepairCounts implements CharacteristicSource {
  readonly characteristic = 'repairs';
  readonly gathering = 'points';
  readonly brokenBy = COUNTS_BROKEN_BY;
  readonly leavesOut = true;

  constructor(private readonly repairs: RepairsService) {}

  async readings(ground: ChartGround, { characteristic: { windowMm } }: ControlChartPlan): Promise<CharacteristicReadings> {
    const rows = await this.repairs.ofString(ground.stringId, ground.asKnownAt);
    return countedOn(ground, windowMm, rows.map((row) => ({ span: row.span, record: linkOf(REPAIRS, row) })), perLength(PER_M));
  }
}
