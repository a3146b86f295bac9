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
import { KeptAnswers } from './kept-answers.js';
import { SignalDetachments } from './signal-detachments.service.js';
import { SignalDirectories } from './signal-directories.service.js';
import { SignalStates, type SignalState } from './signal-states.service.js';
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
/** Versions of channels and runs that are kept in all. */
const KEPT_ROWS = 20_000;

/** The channels of a string, void ones too, and its runs. */
interface Inspecting {
  readonly channels: ReadonlyMap<string, Channel>;
  readonly runs: ReadonlyMap<string, InspectionRun>;
}

/** Places the samples of channels on the pipe: kept while neither they nor what they rest on changes. */
@Injectable()
export class SignalStretches {
  private readonly kept = new LRUCache<string, PlacedSignal>({ max: KEPT });
  private readonly inspecting = new KeptAnswers<Inspecting>(KEPT_ROWS, ({ channels, runs }) => channels.size + runs.size);

  constructor(
    private readonly states: SignalStates,
    private readonly channels: ChannelsService,
    private readonly runs: InspectionRunsService,
    private readonly readings: CounterReadingsService,
    private readonly models: LengthModels,
    private readonly directories: SignalDirectories,
    private readonly detachments: SignalDetachments,
  ) {}

  /**
   * The channel's samples known at an instant, or now, placed; `seen` is its state as it was seen just now. Throws 404; refuses (409)
   * while the string's samples are kept outside.
   */
  async of(stringId: string, channelId: string, asKnownAt: string | null, seen: SignalState | null = null): Promise<PlacedSignal> {
    const state = seen ?? await this.states.of(stringId, channelId);
    const { channels, runs } = await this.inspecting.of(`${stringId}@${asKnownAt ?? ''}`, state.versionsOf(this.channels, this.runs), () => this.inspectingOf(stringId, asKnownAt));
    const channel = channels.get(channelId);
    if (channel === undefined) throw notFound('channel', channelId);
    const [model, directory] = await Promise.all([this.models.of(stringId, asKnownAt, state.revision), this.directories.of(stringId, channelId, state.blocks)]);
    // Fewer than were seen: they left the database in between, and are not taken for samples that never were.
    if (state.isDetached || directory.blocks < state.blocks) {
      this.directories.forget(stringId);
      await this.detachments.refuse(stringId);
      return this.of(stringId, channelId, asKnownAt);
    }
    const blocks = directory.knownBy(asKnownAt === null ? null : microseconds(asKnownAt));
    const key = `${channelId}@${asKnownAt ?? ''}`;
    const kept = this.kept.get(key);
    if (kept?.model === model && kept.blocks === blocks && kept.directory === directory && kept.channel === channel && kept.runs === runs) return kept;
    const logs = await this.logs(stringId, asKnownAt, model, [...runs.values()]);
    const counterOf = (runId: string): string | null => runs.get(runId)?.counter ?? null;
    const placing = { line: model.line, station: channel.station, counterOf, logOf: (counter: string): WeldLog => logs.get(counter) ?? { timesUs: [], footagesMm: [] } };
    const placed: PlacedSignal = { channel, model, directory, blocks, runs, ...stretchesOf(directory, blocks, placing) };
    this.kept.set(key, placed);
    return placed;
  }

  private async inspectingOf(stringId: string, asKnownAt: string | null): Promise<Inspecting> {
    const [channels, runs] = await Promise.all([this.channels.everOnString(stringId, asKnownAt), this.runs.onString(stringId, asKnownAt)]);
    return { channels: byId(channels), runs: byId(runs) };
  }

  private async logs(stringId: string, asKnownAt: string | null, model: StringModel, runs: readonly InspectionRun[]): Promise<ReadonlyMap<string, WeldLog>> {
    const counters = [...new Set(runs.map(({ counter }) => counter))];
    const isMasterAlone = counters.every((counter) => counter === model.line.masterCounter);
    const readings = isMasterAlone ? model.readings : await this.readings.ofString(stringId, asKnownAt);
    return new Map(counters.map((counter) => [counter, weldLogOf(
      model.line, counter, readings.filter((one) => one.counter === counter).map(({ observedAt, reading }) => ({ atUs: microseconds(observedAt), reading })),
    )]));
  }
}

const byId = <R extends { readonly id: string }>(rows: readonly R[]): ReadonlyMap<string, R> => new Map(rows.map((row) => [row.id, row]));
