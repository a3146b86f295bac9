import type { Interval } from '#libs/intervals';
import type { ChannelDirectory } from './channel-directory.js';
import type { Stretch } from './stretch.js';

interface Reach {
  readonly fromMm: number;
  readonly toMm: number;
}

/** Footage, in mm, of which a stretch has samples: from the least to the greatest, unrounded. */
export const reachOf = (directory: ChannelDirectory, stretch: Stretch): Reach =>
  reachBetween(stretch, directory.block(stretch.fromBlock).firstPosition, directory.block(stretch.toBlock - 1).lastPosition);

/** The same of samples from one position to another, as far as these belong to the stretch. */
export function reachBetween(stretch: Stretch, first: number, last: number): Reach {
  const within = (position: number): number => Math.min(Math.max(position, stretch.fromPosition), stretch.toPosition);
  const ends = [first, last].map((position) => stretch.footageOf(within(position)));
  return { fromMm: Math.min(...ends), toMm: Math.max(...ends) };
}

/** Blocks of a stretch that reach into positions from `low` to `high`, both included: from the first up to, and without, the last. */
export function blocksBetween(directory: ChannelDirectory, { fromBlock, toBlock, positionsRise }: Pick<Stretch, 'fromBlock' | 'toBlock' | 'positionsRise'>, low: number, high: number): { readonly fromBlock: number; readonly toBlock: number } {
  // Along the stretch positions go one way: the blocks wanted are those that end at or after it begins, and begin at or before it ends.
  const way = positionsRise ? 1 : -1;
  const [near, far] = positionsRise ? [low, high] : [high, low];
  const first = firstWhere(fromBlock, toBlock, (no) => way * (directory.block(no).lastPosition - near) >= 0);
  const end = firstWhere(first, toBlock, (no) => way * (directory.block(no).firstPosition - far) > 0);
  return { fromBlock: first, toBlock: end };
}

/** Blocks of a stretch that can have a sample within an interval of footage; all of it for null. */
export function blocksWithin(directory: ChannelDirectory, stretch: Stretch, within: Interval | null): { readonly fromBlock: number; readonly toBlock: number } {
  if (within === null) return stretch;
  // A millimetre more to each side: a footage is rounded only once it is known.
  const ends = [within.fromMm - 1, within.toMm + 1].map((mm) => stretch.positionOf(mm));
  const [low, high] = [Math.min(...ends), Math.max(...ends)];
  return blocksBetween(directory, stretch, Math.max(low, stretch.fromPosition), Math.min(high, stretch.toPosition));
}

/** The first number from `from` on for which it holds, up to `to`; it holds for all after that. */
export function firstWhere(from: number, to: number, holds: (no: number) => boolean): number {
  let [low, high] = [from, to];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}
