import { Injectable } from '@nestjs/common';
import { AT_LEAST, AT_MOST, MEASURED, type SampleBlock } from '#libs/indications';
import type { Interval } from '#libs/intervals';
import { roundMm } from '#libs/length';
import { STATUS, type Samples } from '#libs/signals';
import { blocksWithin, reachOf } from './block-span.js';
import { SignalBlocks } from './signal-blocks.js';
import { SignalDetachments } from './signal-detachments.service.js';
import { SignalStretches, type PlacedSignal } from './signal-stretches.service.js';
import { LARGEST_MM, type Stretch } from './stretch.js';

/** Samples of one go along the pipe in rising footage, in blocks as `libs/indications` takes them. */
export interface SignalStroke {
  readonly runId: string;
  /** When it began and ended, µs since 1970 UTC. */
  readonly fromUs: number;
  readonly toUs: number;
  /** The pipe moved back: what comes first in footage was read last. */
  readonly backward: boolean;
  readonly blocks: AsyncIterable<SampleBlock>;
}

/** Samples as they are stored, with the footage of each. */
export interface PlacedSamples {
  readonly runId: string;
  readonly blockNo: number;
  /** Whole mm. */
  readonly footageMm: Int32Array;
  readonly samples: Samples;
}

/** Blocks fetched at a time: about a quarter of a megabyte, and few waits. */
const FETCHED_AT_ONCE = 64;
/** In the place of a footage beyond that: of no pipe, but of a counter that read nonsense. */
const NO_PIPE_MM = -(2 ** 31);

/** Reads the samples of a channel along the pipe, in flat memory. */
@Injectable()
export class SignalStrokes {
  constructor(
    private readonly stretches: SignalStretches,
    private readonly blocks: SignalBlocks,
    private readonly detachments: SignalDetachments,
  ) {}

  /** The strokes of a channel known at an instant, or now, that reach into `within` (null: all), in the order in which they came. Throws as `SignalStretches.of`. */
  async of(stringId: string, channelId: string, within: Interval | null, asKnownAt: string | null): Promise<SignalStroke[]> {
    const placed = await this.stretches.of(stringId, channelId, asKnownAt);
    return placed.stretches.filter((stretch) => this.meets(placed, stretch, within)).map((stretch) => ({
      runId: stretch.runId, fromUs: stretch.fromUs, toUs: stretch.toUs, backward: stretch.falls, blocks: this.rising(placed, stretch, within),
    }));
  }

  /** Whether a stretch reaches into an interval. */
  meets({ directory }: PlacedSignal, stretch: Stretch, within: Interval | null): boolean {
    if (within === null) return true;
    const { fromMm, toMm } = reachOf(directory, stretch);
    return roundMm(fromMm) < within.toMm && roundMm(toMm) >= within.fromMm;
  }

  /** The samples of a stretch that lie within an interval, in the order in which they were read. */
  async *samples(placed: PlacedSignal, stretch: Stretch, within: Interval | null): AsyncGenerator<PlacedSamples> {
    yield* this.read(placed, stretch, within, false);
  }

  private async *rising(placed: PlacedSignal, stretch: Stretch, within: Interval | null): AsyncGenerator<SampleBlock> {
    for await (const { footageMm, samples } of this.read(placed, stretch, within, stretch.falls)) {
      const block = asSampleBlock(footageMm, samples);
      yield stretch.falls ? { positionsMm: block.positionsMm.toReversed(), values: block.values.toReversed(), bounds: block.bounds?.toReversed() ?? null } : block;
    }
  }

  /** Blocks may have left the database while they were read; otherwise one that is missing was lost. */
  private async refuseMissing({ id, stringId }: PlacedSignal['channel'], blockNo: number): Promise<never> {
    await this.detachments.refuse(stringId);
    throw new Error(`block ${blockNo} of channel ${id} is missing`);
  }

  private async *read(placed: PlacedSignal, stretch: Stretch, within: Interval | null, lastFirst: boolean): AsyncGenerator<PlacedSamples> {
    const { directory, channel } = placed;
    const range = blocksWithin(directory, stretch, within);
    const count = range.toBlock - range.fromBlock;
    for (let done = 0; done < count; done += FETCHED_AT_ONCE) {
      const nos = Array.from({ length: Math.min(FETCHED_AT_ONCE, count - done) }, (_, index) =>
        (lastFirst ? range.toBlock - 1 - done - index : range.fromBlock + done + index));
      const found = await this.blocks.samples(channel.stringId, channel.id, nos);
      for (const no of nos) {
        const samples = found.get(no);
        if (samples === undefined) return this.refuseMissing(channel, no);
        const own = filtered(stretch, samplesOf(stretch, no, samples), within);
        if (own.footageMm.length > 0) yield own;
      }
    }
  }
}

function samplesOf(stretch: Stretch, blockNo: number, samples: Samples): PlacedSamples {
  const { positions } = samples;
  const [first, last] = [positions[0] as number, positions.at(-1) as number];
  const isOnPipe = [first, last].every((position) => Math.abs(stretch.footageOf(position)) < LARGEST_MM);
  const footageMm = first !== last && isOnPipe && stretch.isStraight(first, last) ? straightFootage(stretch, positions, first, last) : eachFootage(stretch, positions);
  return { runId: stretch.runId, blockNo, footageMm, samples };
}

/** Closer to the middle between two millimetres than this, it is worked out by itself where it is rounded to. */
const NEAR_HALF_MM = 1e-3;

/** In proportion between the first and the last, to the same millimetres as one by one. */
function straightFootage(stretch: Stretch, positions: Float64Array, first: number, last: number): Int32Array {
  const footageMm = new Int32Array(positions.length);
  const from = stretch.footageOf(first);
  const slope = (stretch.footageOf(last) - from) / (last - first);
  for (let index = 0; index < positions.length; index += 1) {
    const mm = from + ((positions[index] as number) - first) * slope;
    const whole = Math.round(mm);
    footageMm[index] = Math.abs(mm - whole) > 0.5 - NEAR_HALF_MM ? roundMm(stretch.footageOf(positions[index] as number)) : whole;
  }
  return footageMm;
}

function eachFootage(stretch: Stretch, positions: Float64Array): Int32Array {
  const footageMm = new Int32Array(positions.length);
  for (let index = 0; index < positions.length; index += 1) {
    const mm = roundMm(stretch.footageOf(positions[index] as number));
    footageMm[index] = mm > LARGEST_MM || mm < -LARGEST_MM ? NO_PIPE_MM : mm;
  }
  return footageMm;
}

/** Those of a block that are on pipe, within the interval and belong to the stretch. */
function filtered(stretch: Stretch, all: PlacedSamples, within: Interval | null): PlacedSamples {
  const { positions, values, statuses } = all.samples;
  if (within === null && stretch.fromPosition === -Infinity && !all.footageMm.includes(NO_PIPE_MM)) return all;
  const kept: number[] = [];
  for (let index = 0; index < positions.length; index += 1) {
    const [position, mm] = [positions[index] as number, all.footageMm[index] as number];
    const isOwn = position >= stretch.fromPosition && position < stretch.toPosition;
    if (isOwn && mm !== NO_PIPE_MM && (within === null || (mm >= within.fromMm && mm < within.toMm))) kept.push(index);
  }
  if (kept.length === positions.length) return all;
  const bits = new Uint32Array(values.buffer, values.byteOffset, values.length);
  return {
    runId: stretch.runId, blockNo: all.blockNo, footageMm: Int32Array.from(kept, (index) => all.footageMm[index] as number),
    samples: {
      positions: Float64Array.from(kept, (index) => positions[index] as number),
      // By their bits: a NaN that passes through a number may lose its payload.
      values: new Float32Array(Uint32Array.from(kept, (index) => bits[index] as number).buffer),
      statuses: Uint8Array.from(kept, (index) => statuses[index] as number),
    },
  };
}

/** What says nothing of the pipe becomes NaN; bounds are told as such. */
function asSampleBlock(positionsMm: Int32Array, { values: stored, statuses }: Samples): SampleBlock {
  const values = stored.slice();
  let bounds: Uint8Array | null = null;
  for (let index = 0; index < values.length; index += 1) {
    const status = statuses[index];
    if (status === STATUS.read) continue;
    if (status === STATUS.saturatedHigh || status === STATUS.saturatedLow) {
      bounds ??= new Uint8Array(values.length).fill(MEASURED);
      bounds[index] = status === STATUS.saturatedHigh ? AT_LEAST : AT_MOST;
    } else values[index] = NaN;
  }
  return { positionsMm, values, bounds };
}
