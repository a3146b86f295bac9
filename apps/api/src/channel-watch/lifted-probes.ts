import { interval, IntervalSet } from '#libs/intervals';
import type { SignalMark } from '../signal-marks/signal-mark.entity.js';
import type { SignalTrack } from '../signals/signal-tracks.service.js';
import type { SpliceVersion } from '../splices/splice.entity.js';

/** A run that went over a splice without valid samples, or with its probe lifted. */
export interface LiftedProbe<S> {
  readonly splice: S;
  readonly runId: string;
  /** Pipe of the splice and its margins that the run went over and nothing valid speaks for. */
  readonly blind: IntervalSet;
  readonly marks: readonly SignalMark[];
}

/**
 * Each splice with each run that went over it, wholly or in part, and left some of it out: from its first footage to its last a run
 * went over all there is, whether anything was sent of it or not. @param marks of the channel
 */
export function liftedProbes<S extends Pick<SpliceVersion, 'span'>>(
  splices: readonly S[], tracks: readonly SignalTrack[], marks: readonly SignalMark[], marginMm: number,
): LiftedProbe<S>[] {
  return tracks.flatMap(({ runId, pieces, read }) => {
    const leastMm = pieces.reduce((least, { fromMm, toMm }) => Math.min(least, fromMm, toMm), Infinity);
    const mostMm = pieces.reduce((most, { fromMm, toMm }) => Math.max(most, fromMm, toMm), -Infinity);
    const went = leastMm < mostMm ? IntervalSet.of(interval(leastMm, mostMm)) : IntervalSet.empty;
    const lifted = marks.filter((mark) => mark.runId === runId && mark.cause === 'probe-lifted');
    return splices.flatMap((splice) => {
      const zone = went.intersect(zoneOf(splice, marginMm));
      const own = lifted.filter(({ span }) => zone.overlaps(span));
      const blind = zone.subtract(read).union(zone.intersect(IntervalSet.from(own.map(({ span }) => span))));
      return blind.isEmpty ? [] : [{ splice, runId, blind, marks: own }];
    });
  });
}

/** A splice with so much pipe to each side. */
export const zoneOf = ({ span: { fromMm, toMm } }: Pick<SpliceVersion, 'span'>, marginMm: number): IntervalSet =>
  IntervalSet.of(interval(Math.max(0, fromMm - marginMm), toMm + marginMm));
