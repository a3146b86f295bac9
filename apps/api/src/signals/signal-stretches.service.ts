import { Injectable } from '@nestjs/common';
import { LRUCache } from 'lru-cache';
import { microseconds } from '#libs/persistence';
import type { Channel } from '../channels/channel.entity.js';
import { ChannelsService } from '../channels/channels.service.js';
import { notFound } from '../http/problem.js';
import type { InspectionRun } from '../inspection-runs/inspection-run.entity.js';
import { InspectionRunsService } from '../inspection-runs/inspection-runs.service.js';
import { CounterReadingsService } from '../line/counter-readings.service.js';
import { LengthModels, type StringModel } from '../line/length-models.service.js';
import type { ChannelDirectory } from './channel-directory.js';
import { SignalDetachments } from './signal-detachments.service.js';
import { SignalDirectories } from './signal-directories.service.js';
import { stretchesOf, type Placed } from './stretch.js';
import { weldLogOf, type WeldLog } from './weld-log.js';

/** The samples of a channel, placed by what is known at an instant. */
export interface PlacedSignal extends Placed {
  readonly channel: Channel;
  readonly model: StringModel;
  readonly directory: ChannelDirectory;
  /** Blocks known then: those with numbers below this. */
  readonly blocks: number;
  readonly runs: ReadonlyMap<string, InspectionRun>;
}

const KEPT = 100;

/** Places the samples of channels on the pipe: kept while neither they nor what they rest on changes. */
@Injectable()
export class SignalStretches {
  private readonly kept = new LRUCache<string, PlacedSignal>({ max: KEPT });

  constructor(
    private readonly channels: ChannelsService,
    private readonly runs: InspectionRunsService,
    private readonly readings: CounterReadingsService,
    private readonly models: LengthModels,
    private readonly directories: SignalDirectories,
    private readonly detachments: SignalDetachments,
  ) {}

  /** The channel's samples known at an instant, or now, placed. Throws 404; refuses (409) while the string's samples are kept outside. */
  async of(stringId: string, channelId: string, asKnownAt: string | null): Promise<PlacedSignal> {
    const channel = await this.channels.row(channelId, asKnownAt);
    if (channel.stringId !== stringId) throw notFound('channel', channelId);
    const [model, directory, runs] = await Promise.all([
      this.models.of(stringId, asKnownAt), this.directories.of(stringId, channelId), this.runs.onString(stringId, asKnownAt),
    ]);
    await this.refuseDetached(stringId);
    const blocks = directory.knownBy(asKnownAt === null ? null : microseconds(asKnownAt));
    const key = `${channelId}@${asKnownAt ?? ''}`;
    const kept = this.kept.get(key);
    if (kept?.model === model && kept.blocks === blocks && kept.directory === directory && kept.channel.version === channel.version && sameRuns(kept.runs, runs)) return kept;
    const byId = new Map(runs.map((one) => [one.id, one]));
    const logs = await this.logs(stringId, asKnownAt, model, runs);
    const counterOf = (runId: string): string | null => byId.get(runId)?.counter ?? null;
    const placing = { line: model.line, station: channel.station, counterOf, logOf: (counter: string): WeldLog => logs.get(counter) ?? { timesUs: [], footagesMm: [] } };
    const placed: PlacedSignal = { channel, model, directory, blocks, runs: byId, ...stretchesOf(directory, blocks, placing) };
    this.kept.set(key, placed);
    return placed;
  }

  private async logs(stringId: string, asKnownAt: string | null, model: StringModel, runs: readonly InspectionRun[]): Promise<ReadonlyMap<string, WeldLog>> {
    const counters = [...new Set(runs.map(({ counter }) => counter))];
    const isMasterAlone = counters.every((counter) => counter === model.line.masterCounter);
    const readings = isMasterAlone ? model.readings : await this.readings.ofString(stringId, asKnownAt);
    return new Map(counters.map((counter) => [counter, weldLogOf(
      model.line, counter, readings.filter((one) => one.counter === counter).map(({ observedAt, reading }) => ({ atUs: microseconds(observedAt), reading })),
    )]));
  }

  /** Asked once the directory was fetched: what left the database in between is not taken for samples that never were. */
  private async refuseDetached(stringId: string): Promise<void> {
    try {
      await this.detachments.refuse(stringId);
    } catch (error) {
      this.directories.forget(stringId);
      throw error;
    }
  }
}

const sameRuns = (kept: ReadonlyMap<string, InspectionRun>, runs: readonly InspectionRun[]): boolean =>
  kept.size === runs.length && runs.every(({ id, version }) => kept.get(id)?.version === version);
