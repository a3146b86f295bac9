import { Injectable } from '@nestjs/common';
import { microseconds, type Transaction } from '#libs/persistence';
import { contradictory } from '../http/problem.js';
import { Places } from '../line/places.service.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { ChannelInput, USUAL_CHECK_MINUTES, type ChannelContent } from './channel.dto.js';
import { Channel } from './channel.entity.js';
import { channelFaults, samplingOf, stationFindings } from './channel.rules.js';

@Injectable()
export class ChannelsService extends RecordsService<Channel, ChannelInput, ChannelContent> {
  readonly kind = 'channel';
  readonly entity = Channel;
  readonly input = ChannelInput;
  protected override readonly filters = { stringId: 'string_id' };
  protected override readonly constraints = {
    uq_channel_name: { field: 'name', limit: 'a name that no other channel of the string has' },
  };

  constructor(
    desk: RecordDesk,
    private readonly strings: CasingStringsService,
    private readonly places: Places,
  ) {
    super(desk);
  }

  /** The channels of a string known at `asKnownAt`, by name. */
  async onString(stringId: string, asKnownAt: string | null): Promise<Channel[]> {
    return this.desk.store.select(this.entity, "string_id = $1 and state = 'active'", [stringId], asKnownAt, 'order by upper(name), id');
  }

  /** As `onString`, void ones too. */
  async everOnString(stringId: string, asKnownAt: string | null): Promise<Channel[]> {
    return this.desk.store.select(this.entity, 'string_id = $1', [stringId], asKnownAt, 'order by upper(name), id');
  }

  protected async content(tx: Transaction, input: ChannelInput): Promise<Content<Channel>> {
    const faults = channelFaults(input);
    if (faults.length > 0) throw contradictory(faults);
    await this.strings.named(tx, 'stringId', input.stringId);
    const { stringId, name, measures, unit, zone, required, repeats, threshold, speedWindow } = input;
    return {
      stringId, name, measures, unit, method: input.method ?? null, technique: input.technique ?? null, station: input.station ?? null, zone, probe: input.probe ?? null,
      clockFromDeg: input.clockFromDeg ?? null, clockToDeg: input.clockToDeg ?? null, sampling: samplingOf(input.sampling),
      threshold: threshold == null ? null : { sense: threshold.sense, level: threshold.level }, required, missingValues: input.missingValues ?? [],
      saturatesAt: { high: input.saturatesAt?.high ?? null, low: input.saturatesAt?.low ?? null },
      plausible: { from: input.plausible?.from ?? null, to: input.plausible?.to ?? null },
      stuckAfter: input.stuckAfter ?? null, noiseFloorLeast: input.noiseFloorLeast ?? null,
      speedWindow: speedWindow == null ? null : { fromMPerMin: speedWindow.fromMPerMin, toMPerMin: speedWindow.toMPerMin },
      spliceMarginMm: input.spliceMarginMm ?? null, repeats,
      checkEveryMinutes: input.checkEveryMinutes ?? USUAL_CHECK_MINUTES, checkGraceMinutes: input.checkGraceMinutes ?? 0,
      checkRuleSource: input.checkRuleSource ?? null, note: input.note ?? null,
    };
  }

  protected override async findings({ observedAt }: ChannelInput, { stringId, station }: Content<Channel>, tx: Transaction): Promise<readonly Finding[]> {
    if (station === null) return [];
    const setup = (await this.places.line(tx, stringId)).setupAt(microseconds(observedAt));
    return stationFindings(station, setup?.stations.map(({ name }) => name) ?? []);
  }

  protected present(row: Channel): ChannelContent {
    const { stringId, name, measures, unit, method, technique, station, zone, probe, clockFromDeg, clockToDeg, sampling, threshold, required } = row;
    const { missingValues, saturatesAt, plausible, stuckAfter, noiseFloorLeast, speedWindow, spliceMarginMm, repeats } = row;
    const { checkEveryMinutes, checkGraceMinutes, checkRuleSource, note } = row;
    return {
      stringId, name, measures, unit, method, technique, station, zone, probe, clockFromDeg, clockToDeg, sampling, threshold, required,
      missingValues: [...missingValues], saturatesAt, plausible, stuckAfter, noiseFloorLeast, speedWindow, spliceMarginMm, repeats,
      checkEveryMinutes, checkGraceMinutes, checkRuleSource, note,
    };
  }
}
