import type { ChannelDirectory } from './channel-directory.js';
import type { ReadingPlace, Stretch } from './stretch.js';

/** Consecutive blocks of a stretch, and the positions of their first and last sample. */
interface StretchPart {
  readonly fromBlock: number;
  readonly toBlock: number;
  readonly firstPosition: number;
  readonly lastPosition: number;
}

/** Blocks of which each goes on, in time and along the pipe, where the one before ended: the same as if they had come in order. */
export interface JoinedStretch {
  /** One of those that they are of, by which positions of all mean footage. */
  readonly stretch: Stretch;
  /** One after another along the pipe, as it was read. */
  readonly parts: readonly StretchPart[];
}

interface TimedPart extends StretchPart {
  readonly stretch: Stretch;
  readonly fromUs: number;
  readonly toUs: number;
}

/**
 * The stretches of a channel as they go on in time, run by run, whatever the order in which their parts came in: a stretch that a
 * part which came later belongs into is cut there. Those whose positions are times stay as they are.
 */
export function joinedStretches(directory: ChannelDirectory, stretches: readonly Stretch[]): JoinedStretch[] {
  const byReadings = stretches.filter(({ by }) => by !== null);
  const runs = [...new Set(byReadings.map(({ runId }) => runId))];
  return [
    ...runs.flatMap((runId) => joined(inTime(directory, byReadings.filter((one) => one.runId === runId)))),
    ...stretches.filter(({ by }) => by === null).map((stretch) => ({ stretch, parts: [partOf(directory, stretch, stretch.fromBlock, stretch.toBlock)] })),
  ];
}

function partOf(directory: ChannelDirectory, stretch: Stretch, fromBlock: number, toBlock: number): TimedPart {
  const [first, last] = [directory.block(fromBlock), directory.block(toBlock - 1)];
  return { stretch, fromBlock, toBlock, firstPosition: first.firstPosition, lastPosition: last.lastPosition, fromUs: first.fromUs, toUs: last.toUs };
}

/** Stretches in order of time; block by block where one begins before another ends. */
function inTime(directory: ChannelDirectory, stretches: readonly Stretch[]): TimedPart[] {
  const whole = stretches.map((stretch) => partOf(directory, stretch, stretch.fromBlock, stretch.toBlock)).sort(byTime);
  if (whole.every(({ toUs }, index) => toUs <= (whole[index + 1]?.fromUs ?? Infinity))) return whole;
  return stretches.flatMap((stretch) => Array.from({ length: stretch.toBlock - stretch.fromBlock }, (_, nth) =>
    partOf(directory, stretch, stretch.fromBlock + nth, stretch.fromBlock + nth + 1))).sort(byTime);
}

/** Of one instant, along the pipe as it went. */
function byTime(one: TimedPart, other: TimedPart): number {
  const along = ({ stretch, firstPosition }: TimedPart): number => (stretch.positionsRise ? firstPosition : -firstPosition);
  return one.fromUs - other.fromUs || one.toUs - other.toUs || along(one) - along(other);
}

function joined(all: readonly TimedPart[]): JoinedStretch[] {
  const found: { readonly stretch: Stretch; readonly parts: StretchPart[] }[] = [];
  all.forEach((part, index) => {
    const [before, last] = [all[index - 1], found.at(-1)];
    if (before === undefined || last === undefined || !goesOn(before, part)) {
      found.push({ stretch: part.stretch, parts: [part] });
      return;
    }
    const end = last.parts.at(-1) as StretchPart;
    if (end.toBlock === part.fromBlock) last.parts[last.parts.length - 1] = { ...end, toBlock: part.toBlock, lastPosition: part.lastPosition };
    else last.parts.push(part);
  });
  return found;
}

function goesOn(before: TimedPart, next: TimedPart): boolean {
  const { positionsRise } = before.stretch;
  if (next.fromUs < before.toUs || next.stretch.positionsRise !== positionsRise || !isSamePlace(before.stretch.by, next.stretch.by)) return false;
  const step = next.firstPosition - before.lastPosition;
  return positionsRise ? step >= 0 : step <= 0;
}

const isSamePlace = (one: ReadingPlace | null, other: ReadingPlace | null): boolean =>
  one !== null && other !== null && (one === other || (one.period === other.period && one.decimals === other.decimals && one.probe.isAs(other.probe)));
