import { Injectable } from '@nestjs/common';
import type { ControlChartPlan } from '../../control-charts/control-chart-plan.js';
import type { Indication } from '../../indications/indication.entity.js';
import { IndicationsService } from '../../indications/indications.service.js';
import { INDICATIONS, linkOf } from '../../recall/record-kinds.js';
import type { CharacteristicReadings, CharacteristicSource } from '../characteristic-source.js';
import { COUNTS_BROKEN_BY, type ChartGround } from '../chart-ground.js';
import { countedOn, perLength, type CountedEvent } from '../counted-lengths.js';
import { UnlookedPipe } from '../unlooked-pipe.service.js';

/** How many indications begin on a length of pipe that was looked at. */
@Injectable()
export class IndicationCounts implements CharacteristicSource {
  readonly characteristic = 'indications';
  readonly gathering = 'points';
  readonly brokenBy = COUNTS_BROKEN_BY;
  readonly leavesOut = true;

  constructor(
    private readonly indications: IndicationsService,
    private readonly unlooked: UnlookedPipe,
  ) {}

  /** Throws as `UnlookedPipe.of`. */
  async readings(ground: ChartGround, { characteristic: { channelIds, windowMm } }: ControlChartPlan): Promise<CharacteristicReadings> {
    const events = beginningsOn(ground, await this.indications.ofString(ground.stringId, ground.asKnownAt), channelIds);
    return countedOn({ ...ground, exclusions: [...ground.exclusions, ...await this.unlooked.of(ground, channelIds)] }, windowMm, events, perLength());
  }
}

/** Those of some channels, or of all (none named), that begin on the pipe asked about. */
export function beginningsOn({ interval: asked }: Pick<ChartGround, 'interval'>, rows: readonly Indication[], channelIds: readonly string[]): CountedEvent[] {
  return rows
    .filter((row) => row.span.fromMm >= asked.fromMm && row.span.fromMm < asked.toMm && (channelIds.length === 0 || row.channelIds.some((id) => channelIds.includes(id))))
    .map((row) => ({ span: row.span, record: linkOf(INDICATIONS, row) }));
}
