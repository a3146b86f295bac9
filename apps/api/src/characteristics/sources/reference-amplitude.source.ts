import { Injectable } from '@nestjs/common';
import { ChannelsService } from '../../channels/channels.service.js';
import type { ControlChartPlan } from '../../control-charts/control-chart-plan.js';
import { linkOf, REFERENCE_CHECKS } from '../../recall/record-kinds.js';
import type { CheckResult, ReferenceCheck } from '../../reference-checks/reference-check.entity.js';
import { ReferenceChecksService } from '../../reference-checks/reference-checks.service.js';
import type { CharacteristicReading, CharacteristicReadings, CharacteristicSource, LeftOutReading } from '../characteristic-source.js';
import type { ChartGround } from '../chart-ground.js';
import { chartValue } from '../chart-value.js';

/**
 * What a channel showed of a reflector, check by check, where the line was. The standard is no pipe: of what happens on the pipe only a
 * change of set-up breaks the row.
 */
@Injectable()
export class ReferenceAmplitudes implements CharacteristicSource {
  readonly characteristic = 'reference-amplitude';
  readonly gathering = 'by place';
  readonly brokenBy = ['set-up change' as const];
  readonly leavesOut = false;

  constructor(
    private readonly checks: ReferenceChecksService,
    private readonly channels: ChannelsService,
  ) {}

  /** Refuses with 404 when there was no such channel. */
  async readings({ stringId, interval: asked, asKnownAt }: ChartGround, { characteristic: { channelIds, reflector }, unit }: ControlChartPlan): Promise<CharacteristicReadings> {
    const channelId = channelIds[0] ?? '';
    const [channel, rows] = await Promise.all([this.channels.row(channelId, asKnownAt), this.checks.onString(stringId, channelId, asKnownAt)]);
    const [readings, leftOut]: [CharacteristicReading[], LeftOutReading[]] = [[], []];
    const own = rows.filter(({ span }) => span.fromMm >= asked.fromMm && span.fromMm < asked.toMm);
    // By when they were made where several were made at one place.
    for (const row of own.sort((one, other) => one.span.fromMm - other.span.fromMm)) {
      for (const result of row.results) {
        if (result.channelId === channelId && result.reflector === reflector) readingOf(row, result, { unit: channel.unit, chartUnit: unit }, readings, leftOut);
      }
    }
    return { readings, leftOut };
  }
}

function readingOf(row: ReferenceCheck, { amplitude }: CheckResult, { unit, chartUnit }: { readonly unit: string; readonly chartUnit: string }, readings: CharacteristicReading[], leftOut: LeftOutReading[]): void {
  const [place, records] = [row.span, [linkOf(REFERENCE_CHECKS, row)]];
  const value = row.voidReason === null ? chartValue(amplitude, unit, chartUnit) : `the check counts for nothing: ${row.voidReason}`;
  if (typeof value === 'string') leftOut.push({ place, because: value, records });
  else readings.push({ place, values: [value], of: null, observedAt: row.observedAt, records, label: REFERENCE_CHECKS.label(row), coil: null });
}
