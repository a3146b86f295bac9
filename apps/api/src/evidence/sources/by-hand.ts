import { IntervalSet, type Interval } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import type { Examination } from '../../examinations/examination.entity.js';
import { isAtJoint, jointOf } from '../../rejoins/joint.js';

/** A splice, or the place where a piece was cut out, and when it was made. */
export interface MadeJoint {
  readonly kind: 'splice' | 're-join';
  readonly span: Interval;
  readonly madeAt: string;
}

/** Pipe at a joint that was examined by hand and accepted. */
export interface ByHand {
  readonly examination: Examination;
  readonly on: IntervalSet;
}

/**
 * Examinations at joints that stand in for a channel of a method: by that method or one that stands in for it, accepted, and made
 * later than the joint. Over a re-join, or touching it, one tells of both ends. One held or rejected later counts against it: what
 * it covers is taken off.
 */
export function byHandAtJoints(joints: readonly MadeJoint[], method: string | null, examinations: readonly Examination[]): ByHand[] {
  if (method === null) return [];
  const fitting = examinations.filter((one) => one.method === method || one.standsInFor.some((instead) => instead === method));
  return joints.flatMap((joint) => {
    const at = fitting.filter(({ observedAt }) => microseconds(observedAt) > microseconds(joint.madeAt)).map((examination) => ({ examination, on: reachOf(examination.span, joint) }));
    const own = at.filter(({ on }) => on.overlaps(joint.kind === 'splice' ? IntervalSet.of(joint.span) : jointOf(joint.span)));
    return own.filter(({ examination }) => examination.outcome === 'accepted').map(({ examination, on }) => ({ examination, on: withoutTurnedDown(examination, on, at) }));
  });
}

/** By whatever of the pipe beside the joint was turned down too, not at the weld alone. */
function withoutTurnedDown({ observedAt }: Examination, on: IntervalSet, all: readonly ByHand[]): IntervalSet {
  const later = all.filter(({ examination }) => examination.outcome !== 'accepted' && microseconds(examination.observedAt) >= microseconds(observedAt));
  return later.reduce((left, one) => left.subtract(one.on), on);
}

function reachOf(span: Interval, { kind, span: own }: MadeJoint): IntervalSet {
  const joint = jointOf(own);
  return kind === 're-join' && isAtJoint(span, joint) ? joint.union(span) : IntervalSet.of(span);
}
