import { Injectable } from '@nestjs/common';
import { LRUCache } from 'lru-cache';
import { IntervalSet, type Interval } from '#libs/intervals';
import { roundMm } from '#libs/length';
import type { Piece } from '#libs/reference-checks';
import { STATUS } from '#libs/signals';
import { SignalStretches, type PlacedSignal } from './signal-stretches.service.js';
import { SignalStrokes } from './signal-strokes.service.js';
import { Speech } from './speech.js';
import type { Stretch } from './stretch.js';

/**
 * Where one run of a channel went in one go, of what is known at an instant. Footage is of the pipe under the channel's probe. A
 * run that goes back over its pipe has several tracks: what the one did not read, the other may have.
 */
export interface SignalTrack {
  readonly runId: string;
  /** In the order in which they came. */
  readonly pieces: readonly Piece[];
  /** Whole mm for which a sample speaks that is neither missing nor stuck nor implausible. */
  readonly read: IntervalSet;
}

/** Pieces of tracks that are kept in all: some 20 MB. */
const KEPT_PIECES = 200_000;

/** Which pipe each run of a channel inspected, and what of it nothing speaks for; kept for samples that are placed as they were. */
@Injectable()
export class SignalTracks {
  private readonly kept = new LRUCache<PlacedSignal, readonly SignalTrack[]>({
    maxSize: KEPT_PIECES, sizeCalculation: (tracks) => tracks.reduce((sum, { pieces, read }) => sum + pieces.length + read.intervals.length, 1),
  });

  constructor(
    private readonly stretches: SignalStretches,
    private readonly strokes: SignalStrokes,
  ) {}

  /** The tracks of a channel known at an instant, or now, in the order in which they came. Throws as `SignalStretches.of`. */
  async of(stringId: string, channelId: string, asKnownAt: string | null): Promise<readonly SignalTrack[]> {
    const placed = await this.stretches.of(stringId, channelId, asKnownAt);
    const kept = this.kept.get(placed);
    if (kept !== undefined) return kept;
    const tracks = await this.tracksOf(placed);
    this.kept.set(placed, tracks);
    return tracks;
  }

  private async tracksOf(placed: PlacedSignal): Promise<SignalTrack[]> {
    const tracks: SignalTrack[] = [];
    for (const stretch of placed.stretches) {
      tracks.push({ runId: stretch.runId, pieces: piecesOf(placed, stretch), read: IntervalSet.from(await this.readOf(placed, stretch)) });
    }
    return tracks;
  }

  /** Pipe for which the samples of a stretch speak: by the ends of its whole blocks, and sample by sample where something is amiss. */
  private async readOf(placed: PlacedSignal, stretch: Stretch): Promise<Interval[]> {
    const speech = new Speech(placed.channel, stretch);
    const { directory } = placed;
    const isWhole = (no: number): boolean => {
      const { samples, firstPosition, lastPosition, unread } = directory.block(no);
      return unread === 0 && firstPosition >= stretch.fromPosition && lastPosition < stretch.toPosition && speech.isEven(firstPosition, lastPosition, samples);
    };
    const goesOn = (no: number): boolean => no === stretch.fromBlock || speech.goesOn(directory.block(no - 1), directory.block(no));
    for (let no = stretch.fromBlock; no < stretch.toBlock;) {
      if (!goesOn(no)) speech.breakOff();
      let to = no + 1;
      if (isWhole(no)) {
        const { firstPosition, lastPosition } = directory.block(no);
        speech.between(firstPosition, lastPosition);
      } else {
        while (to < stretch.toBlock && !isWhole(to) && goesOn(to)) to += 1;
        await this.sampleBySample(placed, { ...stretch, fromBlock: no, toBlock: to }, speech);
      }
      no = to;
    }
    return speech.intervals();
  }

  private async sampleBySample(placed: PlacedSignal, stretch: Stretch, speech: Speech): Promise<void> {
    for await (const { samples: { positions, statuses } } of this.strokes.samples(placed, stretch, null)) {
      for (let index = 0; index < positions.length; index += 1) {
        const status = statuses[index];
        if (status === STATUS.missing || status === STATUS.suspectStuck || status === STATUS.implausible) {
          if (speech.goesByOrder) speech.breakOff();
          continue;
        }
        const position = positions[index] as number;
        if (position >= stretch.fromPosition && position < stretch.toPosition) speech.between(position, position);
      }
    }
  }
}

/**
 * One piece a block, up to where the next one begins unless that is too far: between blocks no millimetre is lost. It ends with
 * the time of its block all the same: the line may have stood until the next one, with the probe on its reference standard. A
 * sample speaks for the length of a step from it on, whichever way the pipe went. Of a block that lies partly outside its stretch,
 * the part inside.
 */
function piecesOf({ directory, channel }: PlacedSignal, stretch: Stretch): Piece[] {
  const speech = new Speech(channel, stretch);
  const { stepMm } = speech;
  const within = (position: number): number => Math.min(Math.max(position, stretch.fromPosition), stretch.toPosition);
  const mm = (position: number, more: number): number => roundMm(stretch.footageOf(within(position)) + more);
  const pieces: Piece[] = [];
  for (let no = stretch.fromBlock; no < stretch.toBlock; no += 1) {
    const block = directory.block(no);
    const next = no + 1 < stretch.toBlock ? directory.block(no + 1) : null;
    const goesOn = next !== null && speech.goesOn(block, next);
    pieces.push({
      fromUs: Math.max(block.fromUs, stretch.fromUs), toUs: Math.min(block.toUs, stretch.toUs),
      fromMm: mm(block.firstPosition, stretch.falls ? stepMm : 0),
      toMm: goesOn ? mm(next.firstPosition, stretch.falls ? stepMm : 0) : mm(block.lastPosition, stretch.falls ? 0 : stepMm),
    });
  }
  return pieces;
}
