import { IntervalSet, type Interval } from '#libs/intervals';
import type { ChartLimitsVersion } from '../chart-limits/chart-limits.entity.js';

/** What of limits says where they hold. */
type Holding = Pick<ChartLimitsVersion, 'number' | 'appliesFromMm'>;

/** Limits, and the pipe that is held against them. */
export interface Reign<L extends Holding> {
  readonly limits: L;
  /** Footage, mm, half-open. */
  readonly during: Interval;
}

/**
 * Which of the limits of a chart hold where, within some footage: each from where it applies, as far as none of a higher number
 * does. In rising order, apart from each other; pipe that none applies to is in none.
 */
export function reignsOf<L extends Holding>(limits: readonly L[], footage: Interval): Reign<L>[] {
  return limits.flatMap((one): Reign<L>[] => {
    const later = limits.filter(({ number }) => number > one.number).map(({ appliesFromMm }) => appliesFromMm);
    const during = { fromMm: Math.max(one.appliesFromMm, footage.fromMm), toMm: Math.min(...later, footage.toMm) };
    return during.fromMm < during.toMm ? [{ limits: one, during }] : [];
  }).sort((a, b) => a.during.fromMm - b.during.fromMm);
}

/**
 * Pipe that limits were in force on until later ones took their place, though it had been made by then: signals there were seen, and
 * may have waited. In rising order, apart from each other.
 * @param madeUntil how far the line had come when limits were signed, mm
 */
export function takenPlaceOf<L extends Holding>(limits: L, standing: readonly L[], madeUntil: (later: L) => number): Interval[] {
  return IntervalSet.from(standing.filter(({ number }) => number > limits.number).flatMap((later): Interval[] => {
    const lost = { fromMm: Math.max(limits.appliesFromMm, later.appliesFromMm), toMm: madeUntil(later) };
    return lost.fromMm < lost.toMm ? [lost] : [];
  })).intervals.map((one) => ({ ...one }));
}
