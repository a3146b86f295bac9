import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import type { Channel } from '../channels/channel.entity.js';
import { ChannelsService } from '../channels/channels.service.js';
import { notFound } from '../http/problem.js';
import { LengthModels, type StringModel } from '../line/length-models.service.js';
import { SignalMarksService } from '../signal-marks/signal-marks.service.js';
import { SignalStretches } from '../signals/signal-stretches.service.js';
import { SignalTracks } from '../signals/signal-tracks.service.js';
import { weldLogOf } from '../signals/weld-log.js';
import { validGoes, type ChannelCoverage } from './channel-coverage.js';
import type { CoverageQuestion } from './coverage-question.js';
import { pipeSoFar } from './passed-pipe.js';

/** The pipe of a string, and what its channels did with it. */
export interface StringCoverage {
  readonly model: StringModel;
  readonly cutOut: IntervalSet;
  readonly madeMm: number;
  readonly channels: readonly ChannelCoverage[];
  /** Samples that have no footage, of all of them. */
  readonly unplacedSamples: number;
}

/** Gathers what channels inspected. */
@Injectable()
export class ChannelCoverages {
  constructor(
    private readonly models: LengthModels,
    private readonly channels: ChannelsService,
    private readonly marks: SignalMarksService,
    private readonly tracks: SignalTracks,
    private readonly stretches: SignalStretches,
  ) {}

  /** By what was known at the instant asked about. Refuses with 404 when string or channel were not known then. */
  async of(stringId: string, { channelId, asKnownAt }: CoverageQuestion): Promise<StringCoverage> {
    const model = await this.models.of(stringId, asKnownAt);
    const all = await this.channels.onString(stringId, asKnownAt);
    const asked = all.filter(({ id, required }) => (channelId === null ? required : id === channelId));
    if (channelId !== null && asked.length === 0) throw notFound('channel', channelId);
    const marks = await this.marks.ofString(stringId, asKnownAt);
    const { line, string, readings, records } = model;
    const log = weldLogOf(line, string.masterCounter, readings.map(({ observedAt, reading }) => ({ atUs: microseconds(observedAt), reading })));
    const covered = async (channel: Channel): Promise<ChannelCoverage> => ({
      channel, soFar: pipeSoFar(line, string.masterCounter, log, channel.station), goes: validGoes(channel.id, await this.tracks.of(stringId, channel.id, asKnownAt), marks),
    });
    const channels: ChannelCoverage[] = [];
    let unplacedSamples = 0;
    for (const channel of asked) {
      channels.push(await covered(channel));
      const { unplaced } = await this.stretches.of(stringId, channel.id, asKnownAt);
      unplacedSamples += unplaced.reduce((sum, { samples }) => sum + samples, 0);
    }
    return { model, cutOut: IntervalSet.from(records.cutOuts.map(({ span }) => span)), madeMm: pipeSoFar(line, string.masterCounter, log, null).madeMm, channels, unplacedSamples };
  }
}
