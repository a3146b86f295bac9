import { interval, IntervalSet, type Interval } from '#libs/intervals';

/**
 * The pipe of a re-join: what was cut out and a millimetre to both sides. The weld closes the pipe at one place, whichever of
 * its two footages is given for it; once what was cut out is left away, the two ends remain.
 */
export const jointOf = ({ fromMm, toMm }: Interval): IntervalSet => IntervalSet.of(interval(Math.max(0, fromMm - 1), toMm + 1));

/** What lies over a joint, or touches it, is at that joint. */
export const isAtJoint = (span: Interval, joint: IntervalSet): boolean => IntervalSet.of(span).grow(1).overlaps(joint);
