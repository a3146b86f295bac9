import type { Interval } from '#libs/intervals';
import { roundMm } from '#libs/length';
import { instantOf, microseconds } from '#libs/persistence';
import { CHANNELS, linkOf } from '../recall/record-kinds.js';
import type { PlacedSignal } from '../signals/signal-stretches.service.js';
import type { Stretch } from '../signals/stretch.js';
import type { CountedStep } from './counted-steps.js';
import type { OddSpeedAnswer } from './line-events.dto.js';
import { oddSpeeds, type OddSpeed } from './line-motion.js';

/** Blocks further apart than so many times the distance of their samples do not follow each other. Our own choice. */
const GAP_FROM = 1.5;

/**
 * Pipe that went by under a channel outside of its window of speed: by its samples, go by go, and by the readings of the counter
 * while a run of it went on. Both are told; none where the channel has no window. @param steps of the counter, at the weld point
 */
export function channelSpeeds(placed: PlacedSignal, steps: readonly CountedStep[]): OddSpeedAnswer[] {
  const { channel, stretches } = placed;
  const { speedWindow, sampling } = channel;
  if (speedWindow === null) return [];
  const [from, to] = [Number(speedWindow.fromMPerMin), Number(speedWindow.toMPerMin)];
  const answer = (by: OddSpeedAnswer['by'], odd: OddSpeed, interval: Interval): OddSpeedAnswer => ({
    channel: linkOf(CHANNELS, channel), by, side: odd.side, from: instantOf(odd.fromUs), until: instantOf(odd.toUs), interval,
    speedMPerMin: Number(odd.worstMPerMin.toPrecision(4)), window: `${speedWindow.fromMPerMin} to ${speedWindow.toMPerMin} m/min`,
  });
  const stepMm = sampling.per === 'length' ? Number(sampling.everyMm) : 0;
  const bySamples = stretches.flatMap((stretch) => {
    const blocks = blockSteps(placed, stretch);
    const spacingMm = blocks.reduce((widest, { spacingMm: own }) => Math.max(widest, own), 0);
    return oddSpeeds(blocks, from, to, spacingMm * GAP_FROM).map((odd) => answer('samples', odd, hull(odd.fromMm, odd.toMm, stepMm)));
  });
  return [...bySamples, ...byReadings(placed, steps, from, to).map(([odd, interval]) => answer('counter-readings', odd, interval))].sort((a, b) => microseconds(a.from) - microseconds(b.from));
}

interface BlockStep extends CountedStep {
  /** From one sample to the next. */
  readonly spacingMm: number;
}

/** The blocks of a stretch from their first sample to their last; those of one sample say nothing of speed. Of a block that is partly another stretch's, the part inside. */
function blockSteps({ directory }: PlacedSignal, stretch: Stretch): BlockStep[] {
  const within = (position: number): number => Math.min(Math.max(position, stretch.fromPosition), stretch.toPosition);
  const found: BlockStep[] = [];
  for (let no = stretch.fromBlock; no < stretch.toBlock; no += 1) {
    const block = directory.block(no);
    const [fromUs, toUs] = [Math.max(block.fromUs, stretch.fromUs), Math.min(block.toUs, stretch.toUs)];
    const [fromMm, toMm] = [stretch.footageOf(within(block.firstPosition)), stretch.footageOf(within(block.lastPosition))];
    if (toUs > fromUs) found.push({ fromUs, toUs, fromMm, toMm, spacingMm: Math.abs(toMm - fromMm) / Math.max(block.samples - 1, 1) });
  }
  return found;
}

/** The same by steps of the counter that lie wholly or partly in a run of the channel, as pipe under it; without a set-up that says where it is, nothing. */
function byReadings({ channel: { id, station }, runs, model: { line } }: PlacedSignal, steps: readonly CountedStep[], from: number, to: number): (readonly [OddSpeed, Interval])[] {
  const times = [...runs.values()].filter(({ channelIds }) => channelIds.includes(id)).map(({ observedAt, endedAt }) => [microseconds(observedAt), endedAt === null ? Infinity : microseconds(endedAt)] as const);
  const within = steps.filter(({ fromUs, toUs }) => times.some(([began, ended]) => fromUs < ended && toUs > began));
  return oddSpeeds(within, from, to).flatMap((odd) => {
    const probe = line.probeAt(station, odd.fromUs);
    if (probe === null) return [];
    const [one, other] = [odd.fromMm, odd.toMm].map((mm) => Math.max(0, probe.materialMm(mm))) as [number, number];
    return roundMm(one) === roundMm(other) ? [] : [[odd, hull(one, other, 0)] as const];
  });
}

function hull(one: number, other: number, stepMm: number): Interval {
  const fromMm = roundMm(Math.min(one, other));
  return { fromMm, toMm: Math.max(roundMm(Math.max(one, other) + stepMm), fromMm + 1) };
}
