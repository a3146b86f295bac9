import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { ChannelsService } from '../channels/channels.service.js';
import { contradictory, Refused, together } from '../http/problem.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { ControlChartInput, type ControlChartContent } from './control-chart.dto.js';
import { ControlChart } from './control-chart.entity.js';
import { charted, chartFaults, specified } from './control-chart.rules.js';

@Injectable()
export class ControlChartsService extends RecordsService<ControlChart, ControlChartInput, ControlChartContent> {
  readonly kind = 'control chart';
  readonly entity = ControlChart;
  readonly input = ControlChartInput;
  protected override readonly filters = { stringId: 'string_id' };
  protected override readonly constraints = {
    // The channel was withdrawn at the same moment.
    ck_control_chart_own_channels: { field: 'characteristic', limit: 'channels of the string that are not void', code: 'unknown-reference' },
    uq_control_chart_code: { field: 'code', limit: 'a code that no other control chart of the string has' },
  };

  constructor(
    desk: RecordDesk,
    private readonly strings: CasingStringsService,
    private readonly channels: ChannelsService,
  ) {
    super(desk);
  }

  /** The charts of a string known at `asKnownAt`, by their codes. */
  async ofString(stringId: string, asKnownAt: string | null): Promise<ControlChart[]> {
    return this.desk.store.select(this.entity, "string_id = $1 and state = 'active'", [stringId], asKnownAt, 'order by code');
  }

  /** One that is not withdrawn. Refuses with 404 when it was not known then, with 409 when it was void. */
  async open(id: string, asKnownAt: string | null): Promise<ControlChart> {
    const row = await this.row(id, asKnownAt);
    if (row.state === 'void') throw new Refused(409, 'void', `The control chart ${row.code} is void.`);
    return row;
  }

  protected async content(tx: Transaction, input: ControlChartInput): Promise<Content<ControlChart>> {
    const faults = chartFaults(input);
    if (faults.length > 0) throw contradictory(faults);
    const { stringId, code, title, unit, subgroup, leaveOut, chart, rules, specification, reaction } = input;
    const characteristic = charted(input.characteristic);
    const channels = characteristic.channelIds.map((id, index) => this.channels.namedOnString(tx, `characteristic.channelIds[${index}]`, id, stringId));
    await together([this.strings.named(tx, 'stringId', stringId), ...channels]);
    return {
      stringId, code, title, characteristic, unit, chart, rules,
      subgroup: subgroup == null ? null : { size: subgroup.size, withinMm: subgroup.withinMm, everyMm: subgroup.everyMm },
      leaveOut: { aroundSplicesMm: leaveOut.aroundSplicesMm, aroundStopsMm: leaveOut.aroundStopsMm },
      lambda: input.lambda ?? null, width: input.width ?? null, k: input.k ?? null, h: input.h ?? null, batchSize: input.batchSize ?? null, alpha: input.alpha ?? null,
      specification: specification == null ? null : specified(specification),
      reaction: { repeat: reaction.repeat, causes: reaction.causes, adjust: reaction.adjust, decidedBy: reaction.decidedBy }, note: input.note ?? null,
    };
  }

  protected present(row: ControlChart): ControlChartContent {
    const { stringId, code, title, characteristic, unit, subgroup, leaveOut, chart, rules, lambda, width, k, h, batchSize, alpha, specification, reaction, note } = row;
    return {
      stringId, code, title, characteristic: { ...characteristic, channelIds: [...characteristic.channelIds], counters: [...characteristic.counters] }, unit, subgroup, leaveOut,
      chart, rules: [...rules], lambda, width, k, h, batchSize, alpha, specification, reaction: { ...reaction, causes: [...reaction.causes] }, note,
    };
  }
}
