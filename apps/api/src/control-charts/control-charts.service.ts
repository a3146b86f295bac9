import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { ChannelsService } from '../channels/channels.service.js';
import { ChartLimitsRows } from '../chart-limits/chart-limits-rows.service.js';
import { contradictory, Refused, together, type FieldProblem } from '../http/problem.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { digestOf } from '../records/write-request.js';
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
    private readonly limits: ChartLimitsRows,
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

  protected async content(tx: Transaction, input: ControlChartInput, current: ControlChart | null): Promise<Content<ControlChart>> {
    const faults = [...chartFaults(input), ...(current === null ? [] : await this.otherReadings(tx, input, current))];
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

  /** Limits that stand were found from the readings of the chart: what is read, and in which unit, stays as long as some do. */
  private async otherReadings(tx: Transaction, input: ControlChartInput, { id, characteristic, unit }: ControlChart): Promise<FieldProblem[]> {
    const changed = [
      ...(digestOf(charted(input.characteristic)) === digestOf(characteristic) ? [] : [{ field: 'characteristic', value: input.characteristic }]),
      ...(input.unit === unit ? [] : [{ field: 'unit', value: input.unit }]),
    ];
    if (changed.length === 0) return [];
    const standing = await this.limits.ofChart(id, null, tx.manager);
    const numbers = standing.map(({ number }) => number).join(', ');
    return standing.length === 0 ? [] : changed.map((one) => ({ ...one, limit: `as it was: limits ${numbers} stand on it; withdraw them first, or make another chart` }));
  }

  protected present(row: ControlChart): ControlChartContent {
    const { stringId, code, title, characteristic, unit, subgroup, leaveOut, chart, rules, lambda, width, k, h, batchSize, alpha, specification, reaction, note } = row;
    return {
      stringId, code, title, characteristic: { ...characteristic, channelIds: [...characteristic.channelIds], counters: [...characteristic.counters] }, unit, subgroup, leaveOut,
      chart, rules: [...rules], lambda, width, k, h, batchSize, alpha, specification, reaction: { ...reaction, causes: [...reaction.causes] }, note,
    };
  }
}
