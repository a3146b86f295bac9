import { Injectable } from '@nestjs/common';
import { blocksToRead, missingIn, RunWatch, type FoundRuns, type RunRules, type SampleRun, type WatchedCell } from '#libs/channel-watch';
import { interval, type Interval } from '#libs/intervals';
import { roundMm } from '#libs/length';
import { CELLS_IN_BLOCK } from '#libs/signals';
import { blocksWithin } from '../signals/block-span.js';
import type { ChannelDirectory } from '../signals/channel-directory.js';
import { SignalBlocks, type FoundCell } from '../signals/signal-blocks.js';
import type { PlacedSignal } from '../signals/signal-stretches.service.js';
import { SignalDetachments } from '../signals/signal-detachments.service.js';
import { SignalStrokes } from '../signals/signal-strokes.service.js';
import type { Stretch } from '../signals/stretch.js';
import { grouped } from '../suppliers/grouped.js';

/** One go along the pipe, as its cells tell it and, where they leave something open, its samples. */
export interface WatchedStretch {
  readonly runId: string;
  readonly cells: readonly WatchedCell[];
  readonly runs: FoundRuns;
  readonly blocks: number;
  /** Blocks whose samples were read. */
  readonly blocksRead: number;
  /** Footage of a run of its samples. */
  spanOf(run: SampleRun): Interval;
  /** When the samples of blocks were read, by their numbers, both included; µs since 1970 UTC. */
  timeOf(firstBlock: number, lastBlock: number): { readonly fromUs: number; readonly toUs: number };
}

/** What is looked for in a stretch, and how much of it is kept. */
export interface StretchRules extends RunRules {
  /** Missing samples over less pipe than this are not kept. */
  readonly lostFromMm: number;
  /** Runs of either kind at most. */
  readonly mostRuns: number;
}

/** Reads what the watch needs of a stretch. */
@Injectable()
export class WatchedStretches {
  constructor(
    private readonly blocks: SignalBlocks,
    private readonly strokes: SignalStrokes,
    private readonly detachments: SignalDetachments,
  ) {}

  /**
   * A stretch as far as it has blocks within an interval, and one more to both sides; null where it has none. What lies in those
   * blocks beside the interval is told too. Throws TooManyRuns.
   */
  async of(placed: PlacedSignal, stretch: Stretch, within: Interval | null, rules: StretchRules): Promise<WatchedStretch | null> {
    const { directory, channel } = placed;
    const range = wider(stretch, blocksWithin(directory, stretch, within));
    if (range === null) return null;
    const spanOf = spansOf(placed, stretch);
    const found = await this.blocks.cells(channel.stringId, channel.id, [{ level: 1, fromCell: range.fromBlock * CELLS_IN_BLOCK, toCell: range.toBlock * CELLS_IN_BLOCK }]);
    // Cells that left the database meanwhile would be none that look blind.
    await this.detachments.refuse(channel.stringId);
    const cells = found.filter(({ summary }) => isOwn(stretch, summary.firstPosition)).map(({ cellNo, summary }): WatchedCell => ({
      cellNo, summary, ...spanOf(summary.fromPosition, summary.toPosition),
    }));
    const read = new Set([...blocksToRead(cells, rules), ...sharedBlocks(directory, stretch, range, found)]);
    const keeps = ({ firstPosition, lastPosition }: SampleRun): boolean => {
      const { fromMm, toMm } = spanOf(firstPosition, lastPosition);
      return toMm - fromMm >= rules.lostFromMm;
    };
    const watch = new RunWatch(rules, { keeps, most: rules.mostRuns });
    const runs = await this.runsOf(placed, stretch, range, cells, read, watch);
    return {
      runId: stretch.runId, cells, runs, blocks: range.toBlock - range.fromBlock, blocksRead: read.size,
      spanOf: ({ firstPosition, lastPosition }) => spanOf(firstPosition, lastPosition),
      timeOf: (first, last) => ({ fromUs: Math.max(directory.block(first).fromUs, stretch.fromUs), toUs: Math.min(directory.block(last).toUs, stretch.toUs) }),
    };
  }

  private async runsOf(
    placed: PlacedSignal, stretch: Stretch, { fromBlock, toBlock }: BlockRange, cells: readonly WatchedCell[], read: ReadonlySet<number>, watch: RunWatch,
  ): Promise<FoundRuns> {
    const byBlock = grouped(cells, ({ cellNo }) => Math.floor(cellNo / CELLS_IN_BLOCK));
    for (let no = fromBlock; no < toBlock;) {
      let to = no + 1;
      while (to < toBlock && read.has(to) === read.has(no)) to += 1;
      if (read.has(no)) {
        for await (const { blockNo, samples } of this.strokes.samples(placed, { ...stretch, fromBlock: no, toBlock: to }, null)) watch.samples(blockNo, samples);
      } else for (let at = no; at < to; at += 1) watch.cells(at, byBlock.get(at) ?? []);
      no = to;
    }
    return watch.end();
  }
}

interface BlockRange {
  readonly fromBlock: number;
  readonly toBlock: number;
}

function wider(stretch: Stretch, { fromBlock, toBlock }: BlockRange): BlockRange | null {
  return fromBlock === toBlock ? null : { fromBlock: Math.max(fromBlock - 1, stretch.fromBlock), toBlock: Math.min(toBlock + 1, stretch.toBlock) };
}

const isOwn = ({ fromPosition, toPosition }: Stretch, position: number): boolean => position >= fromPosition && position < toPosition;

/** Blocks of which a part is another stretch's, where the pipe turned while they were read: their missing samples are looked at one by one. */
function sharedBlocks(directory: ChannelDirectory, stretch: Stretch, { fromBlock, toBlock }: BlockRange, cells: readonly FoundCell[]): number[] {
  const isShared = (no: number): boolean => !isOwn(stretch, directory.block(no).firstPosition) || !isOwn(stretch, directory.block(no).lastPosition);
  const ends = [fromBlock, toBlock - 1].filter(isShared);
  return ends.filter((no) => cells.some(({ cellNo, summary }) => Math.floor(cellNo / CELLS_IN_BLOCK) === no && missingIn(summary) !== 'none'));
}

/** Footage of positions: each sample speaks for the length of a step from it on, whichever way the pipe went. */
function spansOf({ channel: { sampling } }: PlacedSignal, stretch: Stretch): (one: number, other: number) => Interval {
  const stepMm = sampling.per === 'length' ? Number(sampling.everyMm) : 0;
  const kept = (position: number): number => Math.min(Math.max(position, stretch.fromPosition), stretch.toPosition);
  return (one, other) => {
    const ends = [stretch.footageOf(kept(one)), stretch.footageOf(kept(other))];
    const fromMm = roundMm(Math.min(...ends));
    return interval(fromMm, Math.max(roundMm(Math.max(...ends) + stepMm), fromMm + 1));
  };
}
