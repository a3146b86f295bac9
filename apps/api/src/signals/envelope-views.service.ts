import { Injectable } from '@nestjs/common';
import { columnOf, costOf, envelopeView, merge, type Column, type Fetch, type Fetched, type Sharpness } from '#libs/signals';
import { blocksBetween, reachBetween } from './block-span.js';
import type { ChannelDirectory } from './channel-directory.js';
import { joinedStretches, type JoinedStretch } from './joined-stretches.js';
import type { PlacedSignal } from './signal-stretches.service.js';
import { positionEdge, type Stretch } from './stretch.js';
import { ViewReader } from './view-reader.service.js';

/** A column of a view along the pipe, and how many stretches of samples have something in it. */
export interface PipeColumn extends Column {
  /** More than one: the pipe there was read again, or two stretches meet there; all of it is in the summary. */
  readonly looks: number;
}

/** A gap. */
export const NOTHING_DRAWN: PipeColumn = { summary: null, sharpness: 'exact', looks: 0 };

const BLUNTNESS: readonly Sharpness[] = ['exact', 'shared', 'coarse'];

/** What is read together at most: with so many cells, a block counting as sixteen, no view waits in turn for another part of itself. */
const READ_AT_ONCE = 20_000;

/** A stretch, or several joined, that is being drawn: into which columns, and how far it has come. */
interface Drawing {
  readonly stretch: Stretch;
  readonly fromColumn: number;
  readonly view: Generator<Fetch, Column[], Fetched>;
  step: IteratorResult<Fetch, Column[]>;
}

/** Draws the samples of a channel along the pipe, at a cost that goes by the width of the picture. */
@Injectable()
export class EnvelopeViews {
  private readonly joined = new WeakMap<PlacedSignal, readonly JoinedStretch[]>();

  constructor(private readonly reader: ViewReader) {}

  /**
   * One column between each two edges of footage, in mm, which rise strictly. Refuses as `ViewReader.read`, and throws RangeError as
   * `envelopeView` does.
   */
  async of(placed: PlacedSignal, edgesMm: Float64Array): Promise<PipeColumn[]> {
    const columns: PipeColumn[] = Array.from({ length: edgesMm.length - 1 }, () => NOTHING_DRAWN);
    const drawings = this.joinedOf(placed).flatMap((joinedOnes) => begun(placed.directory, joinedOnes, edgesMm));
    for (let waiting = drawings.filter(isUnderWay); waiting.length > 0; waiting = waiting.filter(isUnderWay)) await this.goOn(placed, someOf(waiting));
    for (const { stretch, fromColumn, step } of drawings) {
      if (step.done !== true) continue;
      const drawn = stretch.footageRises ? step.value : step.value.reverse();
      drawn.forEach((column, index) => {
        const before = columns[fromColumn + index] as PipeColumn;
        columns[fromColumn + index] = column.summary === null ? before : joined(before, column);
      });
    }
    return columns;
  }

  /** The same of one stretch alone: for who takes some samples and leaves others. */
  async ofStretch(placed: PlacedSignal, stretch: Stretch, edgesMm: Float64Array): Promise<PipeColumn[]> {
    return this.of({ ...placed, stretches: [stretch] }, edgesMm);
  }

  private joinedOf(placed: PlacedSignal): readonly JoinedStretch[] {
    const kept = this.joined.get(placed);
    if (kept !== undefined) return kept;
    const joinedOnes = joinedStretches(placed.directory, placed.stretches);
    this.joined.set(placed, joinedOnes);
    return joinedOnes;
  }

  /** Reads what some drawings want next, all of it in one journey. */
  private async goOn({ channel }: PlacedSignal, drawings: readonly Drawing[]): Promise<void> {
    const found = await this.reader.read(channel.stringId, channel.id, drawings.map(({ step }) => step.value as Fetch));
    drawings.forEach((drawing, index) => { drawing.step = drawing.view.next(found[index] as Fetched); });
  }
}

const isUnderWay = ({ step }: Drawing): boolean => step.done !== true;

/** The first of them, and as many more as may be read with it. */
function someOf(drawings: readonly Drawing[]): Drawing[] {
  let room = READ_AT_ONCE;
  return drawings.filter(({ step }, index) => {
    room -= costOf(step.value as Fetch);
    return index === 0 || room >= 0;
  });
}

function begun(directory: ChannelDirectory, { stretch, parts }: JoinedStretch, edgesMm: Float64Array): Drawing[] {
  const { fromMm, toMm } = reachBetween(stretch, parts[0]?.firstPosition ?? 0, parts.at(-1)?.lastPosition ?? 0);
  const [first, last] = [columnOf(edgesMm, fromMm), columnOf(edgesMm, toMm)];
  const [from, to] = [Math.max(first, 0), Math.min(last, edgesMm.length - 2)];
  if (from > to) return [];
  const edges = positionEdges(stretch, edgesMm.subarray(from, to + 2));
  if (edges === null) return [];
  const [low, high] = [edges[0] as number, edges[edges.length - 1] as number];
  const runs = parts.filter(({ firstPosition, lastPosition }) => Math.min(firstPosition, lastPosition) <= high && Math.max(firstPosition, lastPosition) >= low)
    .map(({ fromBlock, toBlock }) => blocksBetween(directory, { fromBlock, toBlock, positionsRise: stretch.positionsRise }, low, high)).filter(({ fromBlock, toBlock }) => fromBlock < toBlock);
  if (runs.length === 0) return [];
  const view = envelopeView(runs, edges);
  return [{ stretch, fromColumn: from, view, step: view.next() }];
}

/** Edges of footage as edges of positions, rising; null where all of them are one position. */
function positionEdges(stretch: Stretch, edgesMm: Float64Array): Float64Array | null {
  const edges = Float64Array.from(edgesMm, (mm) => positionEdge(stretch, mm));
  if (!stretch.footageRises) edges.reverse();
  return (edges[0] as number) < (edges[edges.length - 1] as number) ? edges : null;
}

/** The columns of two stretches in one place. */
const joined = (before: PipeColumn, { summary, sharpness }: Column): PipeColumn => besides({ ...before, looks: before.looks + 1 }, { summary, sharpness, looks: 0 });

/** Two columns side by side as one. */
export const besides = (before: PipeColumn, { summary, sharpness, looks }: PipeColumn): PipeColumn => ({
  summary: before.summary === null ? summary : summary === null ? before.summary : merge(before.summary, summary),
  sharpness: BLUNTNESS.indexOf(before.sharpness) < BLUNTNESS.indexOf(sharpness) ? sharpness : before.sharpness,
  looks: Math.max(before.looks, looks),
});
