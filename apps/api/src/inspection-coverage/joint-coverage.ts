import { IntervalSet, type Interval } from '#libs/intervals';
import type { PiecewiseLinearMap } from '#libs/length';
import { microseconds } from '#libs/persistence';
import type { Examination } from '../examinations/examination.entity.js';
import { isAtJoint, jointOf } from '../rejoins/joint.js';
import { pipeUpTo, validSince, type ChannelCoverage } from './channel-coverage.js';
import { zoneOf, type Joint } from './joints.js';

export const JOINT_STATES = ['covered', 'covered-by-hand', 'missing', 'not-yet', 'cut-out'] as const;
export type JointState = (typeof JOINT_STATES)[number];

/** A joint, and from when on a look at it tells of it. */
export interface TimedJoint extends Joint {
  /** When the weld was made, as recorded, µs since 1970 UTC. */
  readonly madeUs: number;
}

type Looked = Pick<Examination, 'method' | 'standsInFor' | 'outcome' | 'observedAt' | 'span'>;

/** What one channel and examinations by hand say of the pipe at a joint. */
export interface CoveredJoint<E> {
  readonly state: JointState;
  readonly zone: IntervalSet;
  /** Inspected by neither the channel nor, accepted, by hand. */
  readonly missing: IntervalSet;
  /** Not yet at the channel's station. */
  readonly notYet: IntervalSet;
  /** Accepted examinations that cover what the channel left out. */
  readonly byHand: readonly E[];
  /** Examinations of what the channel left out that were held or rejected: they cover nothing. */
  readonly notAccepted: readonly E[];
}

/** Everything about the pipe that all channels share. */
export interface JointedPipe<E> {
  /** With all cut-outs. */
  readonly net: PiecewiseLinearMap;
  readonly cutOut: IntervalSet;
  readonly examinations: readonly E[];
}

/**
 * The pipe at a joint by a channel. A splice is made before its pipe is formed, so that every signal of that pipe is later; at a
 * re-join only goes that began after it was welded tell of it. An examination counts when it was made later than the joint, by the
 * channel's method or by one that stands in for it, and was accepted. Pipe that has not come to the station yet is not missing,
 * unless the state of the rest is.
 */
export function coveredJoint<E extends Looked>(
  joint: TimedJoint, { channel, soFar, goes }: ChannelCoverage, { net, cutOut, examinations }: JointedPipe<E>,
): CoveredJoint<E> {
  const whole = zoneOf(joint, channel.spliceMarginMm ?? 0, net, cutOut);
  const zone = whole.intersect(pipeUpTo(soFar.madeMm, cutOut));
  const due = zone.intersect(pipeUpTo(soFar.passedMm ?? soFar.madeMm, cutOut));
  const left = due.subtract(validSince(goes, joint.kind === 'splice' ? -Infinity : joint.madeUs));
  const later = examinations.filter((one) => microseconds(one.observedAt) > joint.madeUs && fits(one, channel.method) && reachOf(one.span, joint).overlaps(left));
  const byHand = later.filter(({ outcome }) => outcome === 'accepted');
  const missing = byHand.reduce((rest, { span }) => rest.subtract(reachOf(span, joint)), left);
  const notYet = zone.subtract(due);
  const state = whole.isEmpty ? 'cut-out' : !missing.isEmpty ? 'missing' : zone.isEmpty || !notYet.isEmpty ? 'not-yet' : left.isEmpty ? 'covered' : 'covered-by-hand';
  return { state, zone, missing, notYet, byHand, notAccepted: later.filter(({ outcome }) => outcome !== 'accepted') };
}

const fits = ({ method, standsInFor }: Looked, asked: string | null): boolean => method === asked || standsInFor.some((one) => one === asked);

/** Pipe that an examination tells of: over a re-join, or touching it, both of its ends too. */
function reachOf(span: Interval, { kind, span: own }: Joint): IntervalSet {
  const joint = jointOf(own);
  return kind === 're-join' && isAtJoint(span, joint) ? joint.union(span) : IntervalSet.of(span);
}
