import { Injectable } from '@nestjs/common';
import { LRUCache } from 'lru-cache';
import { IntervalSet } from '#libs/intervals';
import type { Piece } from '#libs/reference-checks';
import type { IndicationRuleVersion } from '../indication-rules/indication-rule.entity.js';
import { IndicationRulesService } from '../indication-rules/indication-rules.service.js';
import { SignalTracks, type SignalTrack } from '../signals/signal-tracks.service.js';
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

/** What was looked at, parted by whether the samples still lie where they lay. */
export interface LookedPipeNow extends LookedPipeOf {
  /** Runs whose samples lie elsewhere since a counter or set-up was corrected: what they looked at is other pipe, and nobody says which. */
  readonly moved: readonly LookedRun[];
}

interface KeptLooked {
  readonly looked: LookedPipeOf;
  /** How each run of a channel went when the detection ran, by `placeKey`. */
  readonly lay: ReadonlyMap<string, readonly Piece[]>;
}

/** A rule and some tens of intervals each. */
const KEPT = 1000;

/** Which pipe detections looked at: where a sample spoke, outside what they left out. */
@Injectable()
export class LookedPipe {
  private readonly kept = new LRUCache<string, KeptLooked>({ max: KEPT });

  constructor(
    private readonly rules: IndicationRulesService,
    private readonly channels: LookedChannels,
    private readonly tracks: SignalTracks,
  ) {}

  /** By what was known when it ran, which nothing changes: kept for good. Refuses (409) while the string's samples are kept outside. */
  async of(detection: Looking): Promise<LookedPipeOf> {
    return (await this.known(detection)).looked;
  }

  /** Of some detections of a string, by what is known at an instant, or now, of where its samples lie; in their order. Refuses as `of`. */
  async asTheyLie<D extends Looking>(stringId: string, detections: readonly D[], asKnownAt: string | null): Promise<(LookedPipeNow & { readonly detection: D })[]> {
    const lie = new Map<string, readonly SignalTrack[]>();
    const found: (LookedPipeNow & { readonly detection: D })[] = [];
    for (const detection of detections) {
      const { looked, lay } = await this.known(detection);
      for (const { channelId } of looked.runs) if (!lie.has(channelId)) lie.set(channelId, await this.tracks.of(stringId, channelId, asKnownAt));
      const moved = new Set(looked.runs.filter((run) => !stillLies(lay.get(placeKey(run)) ?? [], piecesOf(lie.get(run.channelId) ?? [], run))));
      found.push({ detection, rule: looked.rule, runs: looked.runs.filter((run) => !moved.has(run)), moved: [...moved] });
    }
    return found;
  }

  private async known(detection: Looking): Promise<KeptLooked> {
    const known = this.kept.get(detection.id);
    if (known !== undefined) return known;
    const { stringId, asKnownAt, saw } = detection;
    const rule = await this.rules.row(detection.ruleId, null);
    const { channels } = await this.channels.of(rule, null, asKnownAt);
    const runs: LookedRun[] = [];
    const lay = new Map<string, readonly Piece[]>();
    for (const channelId of new Set(saw.map((stroke) => stroke.channelId))) {
      const channel = channels.find((one) => one.channelId === channelId);
      const tracks = await this.tracks.of(stringId, channelId, asKnownAt);
      runs.push(...lookedRuns(channelId, saw, tracks, (runId) => {
        const left = channel?.apartOf(runId);
        return left === undefined ? IntervalSet.empty : left.excluded.union(left.notValid);
      }));
      for (const { runId, pieces } of tracks) lay.set(placeKey({ channelId, runId }), [...(lay.get(placeKey({ channelId, runId })) ?? []), ...pieces]);
    }
    const found = { looked: { rule, runs }, lay };
    this.kept.set(detection.id, found);
    return found;
  }
}

type Looking = Omit<SeenDetection, 'version' | 'observedAt' | 'enteredAt'>;

const placeKey = ({ channelId, runId }: Pick<LookedRun, 'channelId' | 'runId'>): string => `${channelId} ${runId}`;

const piecesOf = (tracks: readonly SignalTrack[], { runId }: LookedRun): Piece[] => tracks.filter((track) => track.runId === runId).flatMap(({ pieces }) => pieces);

/**
 * Whether pieces of a run lie where they lay, whatever came to them since: their starts to the millimetre that rounding may take, their
 * ends to a tenth of their length, since a piece that was the last goes on to where the next one starts.
 */
export function stillLies(then: readonly Piece[], now: readonly Piece[]): boolean {
  const same = new Set(now.map(pieceKey));
  return then.every((piece) => same.has(pieceKey(piece)) || now.some((one) => one.fromUs <= piece.fromUs && piece.toUs <= one.toUs && liesOn(one, piece)));
}

const pieceKey = ({ fromUs, toUs, fromMm, toMm }: Piece): string => `${fromUs} ${toUs} ${fromMm} ${toMm}`;

function liesOn(one: Piece, { fromUs, toUs, fromMm, toMm }: Piece): boolean {
  const mmAt = (atUs: number): number => (one.fromUs === one.toUs ? one.fromMm : one.fromMm + ((one.toMm - one.fromMm) * (atUs - one.fromUs)) / (one.toUs - one.fromUs));
  return Math.abs(mmAt(fromUs) - fromMm) <= 1 && Math.abs(mmAt(toUs) - toMm) <= Math.max(1, Math.abs(toMm - fromMm) / 10);
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
