import { Injectable } from '@nestjs/common';
import { interval, IntervalSet, type Interval } from '#libs/intervals';
import { roundMm } from '#libs/length';
import type { Piece } from '#libs/reference-checks';
import { STATUS } from '#libs/signals';
import type { Channel } from '../channels/channel.entity.js';
import type { PlacedSignal } from './signal-stretches.service.js';
import { SignalStretches } from './signal-stretches.service.js';
import { SignalStrokes } from './signal-strokes.service.js';
import type { Stretch } from './stretch.js';

/** Where one run of a channel went, of what is known at an instant. Footage is of the pipe under the channel's probe. */
export interface SignalTrack {
  readonly runId: string;
  /** In the order in which they came. */
  readonly pieces: readonly Piece[];
  /** Whole mm for which a sample speaks that is neither missing nor stuck nor implausible. */
  readonly read: IntervalSet;
}

/** Samples further apart than so many times their usual distance leave a gap. Our own choice. */
const GAP_FROM = 1.5;

/** Which pipe each run of a channel inspected, and what of it nothing speaks for. */
@Injectable()
export class SignalTracks {
  constructor(
    private readonly stretches: SignalStretches,
    private readonly strokes: SignalStrokes,
  ) {}

  /** The tracks of a channel known at an instant, or now, run by run. Throws as `SignalStretches.of`. */
  async of(stringId: string, channelId: string, asKnownAt: string | null): Promise<SignalTrack[]> {
    const placed = await this.stretches.of(stringId, channelId, asKnownAt);
    const runIds = [...new Set(placed.stretches.map(({ runId }) => runId))];
    const tracks: SignalTrack[] = [];
    for (const runId of runIds) {
      const own = placed.stretches.filter((stretch) => stretch.runId === runId);
      const read: Interval[] = [];
      for (const stretch of own) read.push(...await this.readOf(placed, stretch));
      tracks.push({ runId, pieces: own.flatMap((stretch) => piecesOf(placed, stretch)), read: IntervalSet.from(read) });
    }
    return tracks;
  }

  /** Pipe for which the samples of a stretch speak: by the ends of its whole blocks, and sample by sample where something is amiss. */
  private async readOf(placed: PlacedSignal, stretch: Stretch): Promise<Interval[]> {
    const speech = new Speech(placed.channel, stretch);
    const { directory } = placed;
    for (let no = stretch.fromBlock; no < stretch.toBlock; no += 1) {
      const { samples, firstPosition, lastPosition, unread } = directory.block(no);
      const isWhole = unread === 0 && firstPosition >= stretch.fromPosition && lastPosition < stretch.toPosition && speech.isEven(firstPosition, lastPosition, samples);
      if (isWhole) speech.between(firstPosition, lastPosition);
      else await this.sampleBySample(placed, { ...stretch, fromBlock: no, toBlock: no + 1 }, speech);
    }
    return speech.intervals();
  }

  private async sampleBySample(placed: PlacedSignal, stretch: Stretch, speech: Speech): Promise<void> {
    for await (const { samples: { positions, statuses } } of this.strokes.samples(placed, stretch, null)) {
      for (let index = 0; index < positions.length; index += 1) {
        const status = statuses[index];
        if (status === STATUS.missing || status === STATUS.suspectStuck || status === STATUS.implausible) continue;
        const position = positions[index] as number;
        if (position >= stretch.fromPosition && position < stretch.toPosition) speech.between(position, position);
      }
    }
  }
}

/** Gathers for which pipe samples speak: each for its share of the way to the next, as long as that is not too far. */
class Speech {
  private readonly found: Interval[] = [];
  private open: { from: number; to: number } | null = null;
  /** 0 where samples come by time. */
  readonly stepMm: number;
  private readonly byLength: boolean;
  private readonly stepUs: number;

  constructor({ sampling }: Channel, private readonly stretch: Stretch) {
    this.byLength = sampling.per === 'length';
    this.stepMm = sampling.per === 'length' ? Number(sampling.everyMm) : 0;
    this.stepUs = sampling.per === 'time' ? Number(sampling.everyMs) * 1_000 : 0;
  }

  /** Whether so many samples from one position to another lie close enough to each other to speak for all between. */
  isEven(first: number, last: number, samples: number): boolean {
    return samples === 1 || this.isNear(first, first + (last - first) / (samples - 1));
  }

  /** Adds samples that speak for all from one position to another, in the order in which they were read. */
  between(first: number, last: number): void {
    if (this.open !== null && this.isNear(this.open.to, first)) this.open.to = last;
    else {
      this.close();
      this.open = { from: first, to: last };
    }
  }

  intervals(): Interval[] {
    this.close();
    return this.found;
  }

  /** Within the usual distance: along the pipe where samples go by length or by a counter, else by time. */
  isNear(one: number, other: number): boolean {
    if (this.byLength) return Math.abs(this.stretch.footageOf(other) - this.stretch.footageOf(one)) <= this.stepMm * GAP_FROM;
    return this.stretch.fromPosition === -Infinity || Math.abs(other - one) <= this.stepUs * GAP_FROM;
  }

  private close(): void {
    if (this.open === null) return;
    const ends = [this.stretch.footageOf(this.open.from), this.stretch.footageOf(this.open.to)];
    // A sample speaks for the length of a step from it on: the last one too, and one alone.
    const fromMm = roundMm(Math.min(...ends));
    const toMm = roundMm(Math.max(...ends) + this.stepMm);
    this.found.push(interval(fromMm, Math.max(toMm, fromMm + 1)));
    this.open = null;
  }
}

/**
 * One piece a block, up to where the next one begins unless that is too far: between blocks no millimetre is lost. A sample
 * speaks for the length of a step from it on, whichever way the pipe went. Of a block that lies partly outside its stretch, the
 * part inside.
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
    const goesOn = next !== null && speech.isNear(block.lastPosition, next.firstPosition);
    pieces.push({
      fromUs: Math.max(block.fromUs, stretch.fromUs), toUs: Math.min(goesOn ? next.fromUs : block.toUs, stretch.toUs),
      fromMm: mm(block.firstPosition, stretch.falls ? stepMm : 0),
      toMm: goesOn ? mm(next.firstPosition, stretch.falls ? stepMm : 0) : mm(block.lastPosition, stretch.falls ? 0 : stepMm),
    });
  }
  return pieces;
}
