import { footageAtReading, readingAtFootage, type CounterPeriod } from '#libs/length';
import type { LineKnowledge } from '../line/line-knowledge.js';
import type { ProbePlace } from '../line/probe-place.js';
import type { ChannelDirectory, DirectoryBlock } from './channel-directory.js';
import { footageAtUs, strokesOf, timeOfFootage, type LogStroke, type WeldLog } from './weld-log.js';

/** What makes a reading of a counter, the position / 10^decimals, the footage under a probe. */
export interface ReadingPlace {
  readonly period: CounterPeriod;
  readonly probe: ProbePlace;
  readonly decimals: number;
}

/** Consecutive blocks of a run in which the pipe went one way under the probe and every position means one footage. */
export interface Stretch {
  readonly runId: string;
  readonly fromBlock: number;
  readonly toBlock: number;
  /** The pipe moved back: footage falls from block to block. */
  readonly falls: boolean;
  /** Whether positions rise from block to block; where they are times they always do. */
  readonly positionsRise: boolean;
  /** Footage rises with the position, or falls with it. */
  readonly footageRises: boolean;
  readonly fromUs: number;
  readonly toUs: number;
  /** Positions from `fromPosition` up to, and without, `toPosition` belong to it, whatever else its blocks hold. */
  readonly fromPosition: number;
  readonly toPosition: number;
  /** By what its positions, as readings of a counter, mean footage; null where they are times. */
  readonly by: ReadingPlace | null;
  /** Footage of the material under the probe, mm, unrounded. */
  footageOf(position: number): number;
  /** Whether footage is in proportion to the position from one to the other; false where that is not known. */
  isStraight(one: number, other: number): boolean;
  /** The position from which on (with the footage falling: up to which) the footage is at least this; ∓infinity beyond the ends. */
  positionOf(footageMm: number): number;
}

/** Samples that have no footage. */
export interface Unplaced {
  readonly runId: string;
  readonly samples: number;
  readonly fromUs: number;
  readonly toUs: number;
  readonly why: 'no-counter-period' | 'no-line-setup' | 'no-counter-readings';
}

/** What places the samples of a channel. */
export interface Placing {
  readonly line: LineKnowledge;
  /** Station of the channel; null at the weld point. */
  readonly station: string | null;
  /** The counter of a run, or null when the run is not known. */
  counterOf(runId: string): string | null;
  /** The readings of a counter as a log. */
  logOf(counter: string): WeldLog;
}

export interface Placed {
  readonly stretches: readonly Stretch[];
  readonly unplaced: readonly Unplaced[];
  /** About how many samples of the stretches lie beyond any pipe there can be: their counter read nonsense. */
  readonly beyondPipe: number;
}

/** 2,147 km: what a footage can be in 32 bits. */
export const LARGEST_MM = 2 ** 31 - 1;

/** About how many samples lie on no pipe: those without a footage, and those beyond any pipe. */
export const samplesOffPipe = ({ unplaced, beyondPipe }: Placed): number => unplaced.reduce((sum, { samples }) => sum + samples, beyondPipe);

/**
 * An edge of footage, mm, as an edge of positions, kept within what belongs to the stretch. Where footage falls, what lies on an edge
 * belongs to what comes first in time: that ends just behind it.
 */
export function positionEdge(stretch: Stretch, mm: number): number {
  const { footageRises, fromPosition, toPosition } = stretch;
  const position = stretch.positionOf(mm);
  // Positions are whole numbers: one that rounding alone puts past an edge lies on it.
  const slack = 1e-6 + Math.abs(position) * 2 ** -51;
  const edge = Number.isFinite(position) ? footageRises ? Math.ceil(position - slack) : Math.floor(position + slack) + 1 : position;
  return Math.min(Math.max(edge, fromPosition), toPosition);
}

/** The first `blocks` blocks of a channel as stretches, in the order in which they came. */
export function stretchesOf(directory: ChannelDirectory, blocks: number, placing: Placing): Placed {
  const stretches: Stretch[] = [];
  const unplaced: Unplaced[] = [];
  for (const group of groupsOf(directory, blocks)) {
    const counter = placing.counterOf(group.runId);
    if (counter === null) continue;
    if (group.position === 'time') placeByTime(directory, group, counter, placing, stretches, unplaced);
    else placeByCounter(directory, group, counter, placing, stretches, unplaced);
  }
  return { stretches, unplaced, beyondPipe: stretches.reduce((sum, stretch) => sum + samplesBeyond(directory, stretch), 0) };
}

/** About how many samples of a stretch lie beyond any pipe; in a block that reaches there, by their share of its positions. */
function samplesBeyond(directory: ChannelDirectory, stretch: Stretch): number {
  const isBeyond = (position: number): boolean => Math.abs(stretch.footageOf(position)) > LARGEST_MM;
  // Along a stretch positions go one way: where its ends are on pipe, all is.
  if (stretch.by === null || (!isBeyond(directory.block(stretch.fromBlock).firstPosition) && !isBeyond(directory.block(stretch.toBlock - 1).lastPosition))) return 0;
  let beyond = 0;
  for (let no = stretch.fromBlock; no < stretch.toBlock; no += 1) {
    const { samples, firstPosition, lastPosition } = directory.block(no);
    const [first, last] = [isBeyond(firstPosition), isBeyond(lastPosition)];
    if (first && last) beyond += samples;
    else if (first || last) {
      const outer = first ? firstPosition : lastPosition;
      const edge = stretch.positionOf(Math.sign(stretch.footageOf(outer)) * LARGEST_MM);
      beyond += Math.max(1, Math.round((samples * Math.abs(outer - edge)) / Math.abs(lastPosition - firstPosition)));
    }
  }
  return beyond;
}

/** Consecutive blocks of one run whose positions are of one kind and go one way without a step back. */
interface Group {
  readonly runId: string;
  readonly position: 'counter' | 'time';
  readonly decimals: number;
  readonly fromBlock: number;
  toBlock: number;
  rises: boolean | null;
  last: DirectoryBlock;
}

function groupsOf(directory: ChannelDirectory, blocks: number): Group[] {
  const groups: Group[] = [];
  for (let no = 0; no < blocks; no += 1) {
    const block = directory.block(no);
    const group = groups.at(-1);
    if (group === undefined || !goesOn(group, block)) {
      const { runId, position, decimals } = block.upload;
      groups.push({ runId, position, decimals, fromBlock: no, toBlock: no + 1, rises: wayOf(block), last: block });
    } else {
      group.rises ??= wayOf(block) ?? (block.firstPosition === group.last.lastPosition ? null : block.firstPosition > group.last.lastPosition);
      group.toBlock = no + 1;
      group.last = block;
    }
  }
  return groups;
}

const wayOf = ({ firstPosition, lastPosition }: DirectoryBlock): boolean | null => (firstPosition === lastPosition ? null : lastPosition > firstPosition);

function goesOn({ runId, position, decimals, rises, last }: Group, block: DirectoryBlock): boolean {
  const { upload } = block;
  if (upload.runId !== runId || upload.position !== position || upload.decimals !== decimals || block.fromUs < last.toUs) return false;
  const ways = [rises, block.firstPosition === last.lastPosition ? null : block.firstPosition > last.lastPosition, wayOf(block)];
  return !(ways.includes(true) && ways.includes(false));
}

function placeByCounter(directory: ChannelDirectory, group: Group, counter: string, placing: Placing, stretches: Stretch[], unplaced: Unplaced[]): void {
  const { line, station } = placing;
  const changes = line.changesUs(counter);
  let from = group.fromBlock;
  while (from < group.toBlock) {
    const first = directory.block(from);
    const nextChange = changes.find((atUs) => atUs > first.fromUs) ?? Infinity;
    let to = from + 1;
    while (to < group.toBlock && directory.block(to).fromUs < nextChange) to += 1;
    const last = directory.block(to - 1);
    const [period, probe] = [line.periodAt(counter, first.fromUs), line.probeAt(station, first.fromUs)];
    if (period === null || probe === null) {
      unplaced.push(unplacedOf(directory, group.runId, from, to, period === null ? 'no-counter-period' : 'no-line-setup'));
    } else {
      const unit = 10 ** group.decimals;
      const rises = group.rises ?? true;
      stretches.push({
        runId: group.runId, fromBlock: from, toBlock: to, falls: !rises, positionsRise: rises, footageRises: true, fromUs: first.fromUs, toUs: last.toUs,
        fromPosition: -Infinity, toPosition: Infinity, by: { period, probe, decimals: group.decimals },
        footageOf: (position) => probe.materialMm(footageAtReading(period, position / unit)),
        isStraight: (one, other) => probe.isStraight(footageAtReading(period, one / unit), footageAtReading(period, other / unit)),
        positionOf: (footageMm) => readingAtFootage(period, probe.weldFootageMm(footageMm)) * unit,
      });
    }
    from = to;
  }
}

function placeByTime(directory: ChannelDirectory, group: Group, counter: string, placing: Placing, stretches: Stretch[], unplaced: Unplaced[]): void {
  const { line, station } = placing;
  const [fromUs, toUs] = [directory.block(group.fromBlock).fromUs, group.last.toUs];
  const strokes = strokesOf(placing.logOf(counter), fromUs, toUs + 1, line.changesUs(counter));
  let placedUpTo = group.fromBlock;
  const [firstUs, lastUs] = [strokes[0]?.timesUs[0] ?? Infinity, strokes.at(-1)?.timesUs.at(-1) ?? -Infinity];
  for (const [index, stroke] of strokes.entries()) {
    const [strokeFrom, strokeTo] = [stroke.timesUs[0] as number, stroke.timesUs.at(-1) as number];
    // The last instant of the last stroke is its own; of the others, it begins the next.
    const endUs = index === strokes.length - 1 ? strokeTo + 1 : strokeTo;
    let from = placedUpTo;
    while (from < group.toBlock && directory.block(from).toUs < strokeFrom) from += 1;
    let to = from;
    while (to < group.toBlock && directory.block(to).fromUs < endUs) to += 1;
    placedUpTo = Math.max(to - 1, group.fromBlock);
    if (from === to) continue;
    const probe = line.probeAt(station, strokeFrom);
    if (probe === null) unplaced.push({ runId: group.runId, samples: samplesBetween(directory, from, to, strokeFrom, strokeTo), fromUs: strokeFrom, toUs: strokeTo, why: 'no-line-setup' });
    else stretches.push(timed(group.runId, from, to, stroke, endUs, probe));
  }
  const outside = unloggedSamples(directory, group, firstUs, lastUs);
  if (outside > 0) unplaced.push({ runId: group.runId, samples: outside, fromUs, toUs, why: 'no-counter-readings' });
}

function timed(runId: string, fromBlock: number, toBlock: number, stroke: LogStroke, endUs: number, probe: ProbePlace): Stretch {
  const fromUs = stroke.timesUs[0] as number;
  return {
    runId, fromBlock, toBlock, falls: stroke.falls, positionsRise: true, footageRises: !stroke.falls, fromUs, toUs: endUs - 1, fromPosition: fromUs, toPosition: endUs, by: null,
    footageOf: (position) => probe.materialMm(footageAtUs(stroke, position)),
    isStraight: () => false,
    positionOf: (footageMm) => timeOfFootage(stroke, probe.weldFootageMm(footageMm)),
  };
}

/** About how many samples of a group lie before the log begins or after it ends. */
const unloggedSamples = (directory: ChannelDirectory, { fromBlock, toBlock }: Group, firstUs: number, lastUs: number): number =>
  samplesBetween(directory, fromBlock, toBlock, -Infinity, Infinity) - samplesBetween(directory, fromBlock, toBlock, firstUs, lastUs);

/** About how many samples of blocks were read between two instants, both included; by the share of a block's time. */
function samplesBetween(directory: ChannelDirectory, fromBlock: number, toBlock: number, firstUs: number, lastUs: number): number {
  let inside = 0;
  for (let no = fromBlock; no < toBlock; no += 1) {
    const { fromUs, toUs, samples } = directory.block(no);
    const us = Math.max(0, Math.min(toUs, lastUs) - Math.max(fromUs, firstUs));
    if (toUs > fromUs) inside += Math.round((samples * us) / (toUs - fromUs));
    else if (fromUs >= firstUs && fromUs <= lastUs) inside += samples;
  }
  return inside;
}

function unplacedOf(directory: ChannelDirectory, runId: string, from: number, to: number, why: Unplaced['why']): Unplaced {
  let samples = 0;
  for (let no = from; no < to; no += 1) samples += directory.block(no).samples;
  return { runId, samples, fromUs: directory.block(from).fromUs, toUs: directory.block(to - 1).toUs, why };
}
