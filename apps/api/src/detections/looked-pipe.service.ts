import { Injectable } from '@nestjs/common';
import { LRUCache } from 'lru-cache';
import { IntervalSet } from '#libs/intervals';
import type { IndicationRuleVersion } from '../indication-rules/indication-rule.entity.js';
import { IndicationRulesService } from '../indication-rules/indication-rules.service.js';
import { SignalTracks } from '../signals/signal-tracks.service.js';
import type { SeenDetection } from './detections.service.js';
import { LookedChannels } from './looked-channels.service.js';

/** The pipe that a detection looked at by a run of a channel. */
export interface LookedRun {
  readonly channelId: string;
  readonly runId: string;
  readonly pipe: IntervalSet;
}

export interface LookedPipeOf {
  readonly rule: IndicationRuleVersion;
  readonly runs: readonly LookedRun[];
}

/** A rule and some tens of intervals each. */
const KEPT = 1000;

/** Which pipe detections looked at: where a sample spoke, outside what they left out. */
@Injectable()
export class LookedPipe {
  private readonly kept = new LRUCache<string, LookedPipeOf>({ max: KEPT });

  constructor(
    private readonly rules: IndicationRulesService,
    private readonly channels: LookedChannels,
    private readonly tracks: SignalTracks,
  ) {}

  /** By what was known when it ran, which nothing changes: kept for good. Refuses (409) while the string's samples are kept outside. */
  async of(detection: Omit<SeenDetection, 'version' | 'observedAt' | 'enteredAt'>): Promise<LookedPipeOf> {
    const known = this.kept.get(detection.id);
    if (known !== undefined) return known;
    const { stringId, asKnownAt, saw } = detection;
    const rule = await this.rules.row(detection.ruleId, null);
    const { channels } = await this.channels.of(rule, null, asKnownAt);
    const runs: LookedRun[] = [];
    for (const channelId of new Set(saw.map((stroke) => stroke.channelId))) {
      const channel = channels.find((one) => one.channelId === channelId);
      const tracks = await this.tracks.of(stringId, channelId, asKnownAt);
      runs.push(...lookedRuns(channelId, saw, tracks, (runId) => {
        const left = channel?.apartOf(runId);
        return left === undefined ? IntervalSet.empty : left.excluded.union(left.notValid);
      }));
    }
    const found = { rule, runs };
    this.kept.set(detection.id, found);
    return found;
  }
}

/** By run: of what lies between first and last sample looked at, the pipe that was read and not left out. */
export function lookedRuns(
  channelId: string, saw: readonly Pick<SeenDetection['saw'][number], 'channelId' | 'runId' | 'looked'>[], tracks: readonly { readonly runId: string; readonly read: IntervalSet }[],
  leftOut: (runId: string) => IntervalSet,
): LookedRun[] {
  const own = saw.filter((stroke) => stroke.channelId === channelId);
  return [...new Set(own.map(({ runId }) => runId))].map((runId) => {
    const between = IntervalSet.from(own.flatMap((stroke) => (stroke.runId === runId && stroke.looked !== null ? [stroke.looked] : [])));
    const read = tracks.filter((track) => track.runId === runId).reduce((sum, track) => sum.union(track.read), IntervalSet.empty);
    return { channelId, runId, pipe: between.intersect(read).subtract(leftOut(runId)) };
  });
}
