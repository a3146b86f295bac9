import { Injectable } from '@nestjs/common';
import { addressOf, columnOf, envelopeView, merge, part, type Column, type Fetch, type Fetched, type Sharpness } from '#libs/signals';
import { blocksBetween, reachOf } from './block-span.js';
import { SignalBlocks } from './signal-blocks.js';
import { SignalDetachments } from './signal-detachments.service.js';
import { SignalStretches, type PlacedSignal } from './signal-stretches.service.js';
import type { Stretch } from './stretch.js';

/** A column of a view along the pipe, and how many stretches of samples have something in it. */
export interface PipeColumn extends Column {
  /** More than one: the pipe there was read again, or two stretches meet there; all of it is in the summary. */
  readonly looks: number;
}

/** A gap. */
export const NOTHING_DRAWN: PipeColumn = { summary: null, sharpness: 'exact', looks: 0 };

const BLUNTNESS: readonly Sharpness[] = ['exact', 'shared', 'coarse'];

/** Draws the samples of a channel along the pipe, at a cost that goes by the width of the picture. */
@Injectable()
export class EnvelopeViews {
  constructor(
    private readonly stretches: SignalStretches,
    private readonly blocks: SignalBlocks,
    private readonly detachments: SignalDetachments,
  ) {}

  /**
   * One column between each two edges of footage, in mm, which rise strictly. Throws as `SignalStretches.of`, and RangeError as
   * `envelopeView` does.
   */
  async of(stringId: string, channelId: string, edgesMm: Float64Array, asKnownAt: string | null): Promise<{ readonly placed: PlacedSignal; readonly columns: PipeColumn[] }> {
    const placed = await this.stretches.of(stringId, channelId, asKnownAt);
    const columns: PipeColumn[] = Array.from({ length: edgesMm.length - 1 }, () => NOTHING_DRAWN);
    for (const stretch of placed.stretches) await this.draw(placed, stretch, edgesMm, columns);
    // Blocks that left the database meanwhile would look like a gap.
    await this.detachments.refuse(stringId);
    return { placed, columns };
  }

  /** The same of one stretch alone: for who takes some samples and leaves others. */
  async ofStretch(placed: PlacedSignal, stretch: Stretch, edgesMm: Float64Array): Promise<PipeColumn[]> {
    const columns: PipeColumn[] = Array.from({ length: edgesMm.length - 1 }, () => NOTHING_DRAWN);
    await this.draw(placed, stretch, edgesMm, columns);
    await this.detachments.refuse(placed.channel.stringId);
    return columns;
  }

  private async draw(placed: PlacedSignal, stretch: Stretch, edgesMm: Float64Array, columns: PipeColumn[]): Promise<void> {
    const { fromMm, toMm } = reachOf(placed.directory, stretch);
    const [first, last] = [columnOf(edgesMm, fromMm), columnOf(edgesMm, toMm)];
    const [from, to] = [Math.max(first, 0), Math.min(last, columns.length - 1)];
    if (from > to) return;
    const edges = positionEdges(stretch, edgesMm.subarray(from, to + 2));
    if (edges === null) return;
    const blocks = blocksBetween(placed.directory, stretch, edges[0] as number, edges[edges.length - 1] as number);
    if (blocks.fromBlock === blocks.toBlock) return;
    const drawn = await this.columns(placed, blocks, edges);
    if (!stretch.footageRises) drawn.reverse();
    drawn.forEach((column, index) => {
      const before = columns[from + index] as PipeColumn;
      columns[from + index] = column.summary === null ? before : joined(before, column);
    });
  }

  private async columns({ channel }: PlacedSignal, blocks: { readonly fromBlock: number; readonly toBlock: number }, edges: Float64Array): Promise<Column[]> {
    const view = envelopeView(blocks, edges);
    let step = view.next();
    while (step.done !== true) step = view.next(await this.fetched(channel.stringId, channel.id, step.value));
    return step.value;
  }

  private async fetched(stringId: string, channelId: string, { cells, raw }: Fetch): Promise<Fetched> {
    const [found, samples] = await Promise.all([
      this.blocks.cells(stringId, channelId, cells), this.blocks.samples(stringId, channelId, [...new Set(raw.map(({ blockNo }) => blockNo))]),
    ]);
    return {
      cells: found,
      raw: raw.flatMap(({ blockNo, from, to }) => {
        const block = samples.get(blockNo);
        if (block === undefined || from >= block.values.length) return [];
        return [{ firstAddress: addressOf(blockNo, from), samples: part(block, from, Math.min(to, block.values.length)) }];
      }),
    };
  }
}

/**
 * Edges of footage as edges of positions, rising; null where all of them are one position. Kept within what belongs to the stretch.
 * Where footage falls, what lies on an edge belongs to the column that comes first in time: that column ends just behind it.
 */
function positionEdges(stretch: Stretch, edgesMm: Float64Array): Float64Array | null {
  const edgeAt = (mm: number): number => {
    const position = stretch.positionOf(mm);
    if (!Number.isFinite(position)) return position;
    // Positions are whole numbers: one that rounding alone puts past an edge lies on it.
    const slack = 1e-6 + Math.abs(position) * 2 ** -51;
    return stretch.footageRises ? Math.ceil(position - slack) : Math.floor(position + slack) + 1;
  };
  const edges = Float64Array.from(edgesMm, (mm) => Math.min(Math.max(edgeAt(mm), stretch.fromPosition), stretch.toPosition));
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
