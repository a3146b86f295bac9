import { interval, IntervalSet } from '#libs/intervals';
import type { Channel } from '../channels/channel.entity.js';
import type { SignalMark } from '../signal-marks/signal-mark.entity.js';
import type { SignalTrack } from '../signals/signal-tracks.service.js';
import type { PipeSoFar } from './passed-pipe.js';

/** Pipe that one go of a run inspected validly. */
export interface ValidGo {
  /** When its first sample was read, µs since 1970 UTC. */
  readonly fromUs: number;
  readonly valid: IntervalSet;
}

/** What of the pipe a channel had to inspect, and what it did. */
export interface ChannelCoverage {
  readonly channel: Channel;
  readonly soFar: PipeSoFar;
  readonly goes: readonly ValidGo[];
}

/** The goes of a channel; what a mark of the same run says is not valid was not inspected by it. @param marks may be those of the string */
export function validGoes(channelId: string, tracks: readonly SignalTrack[], marks: readonly Pick<SignalMark, 'runId' | 'channelIds' | 'effect' | 'span'>[]): ValidGo[] {
  return tracks.map(({ runId, pieces, read }) => {
    const notValid = marks.filter((mark) => mark.runId === runId && mark.effect === 'not-valid' && mark.channelIds.includes(channelId));
    return { fromUs: pieces.reduce((first, { fromUs }) => Math.min(first, fromUs), Infinity), valid: read.subtract(IntervalSet.from(notValid.map(({ span }) => span))) };
  });
}

/** Pipe that goes that began at or after an instant inspected validly, whichever of them. */
export const validSince = (goes: readonly ValidGo[], sinceUs: number): IntervalSet =>
  IntervalSet.from(goes.filter(({ fromUs }) => fromUs >= sinceUs).flatMap(({ valid }) => valid.intervals));

/** Pipe from the lead end up to a footage, without what was cut out. */
export const pipeUpTo = (toMm: number, cutOut: IntervalSet): IntervalSet => (toMm <= 0 ? IntervalSet.empty : IntervalSet.of(interval(0, toMm)).subtract(cutOut));

/** The same pipe in four sets; `valid` and `gaps` together are `required`. */
export interface CoveredPipe {
  readonly required: IntervalSet;
  readonly valid: IntervalSet;
  readonly gaps: IntervalSet;
  /** Made, and not yet at the station. */
  readonly notYet: IntervalSet;
}

/** Where nobody knows where the station is, all pipe made counts as past it: what is not known must not look like not yet due. */
export function coveredPipe({ soFar, goes }: Pick<ChannelCoverage, 'soFar' | 'goes'>, cutOut: IntervalSet): CoveredPipe {
  const made = pipeUpTo(soFar.madeMm, cutOut);
  const required = pipeUpTo(soFar.passedMm ?? soFar.madeMm, cutOut);
  const valid = validSince(goes, -Infinity).intersect(required);
  return { required, valid, gaps: required.subtract(valid), notYet: made.subtract(required) };
}
