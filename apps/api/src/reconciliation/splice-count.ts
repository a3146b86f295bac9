import type { Interval } from '#libs/intervals';

interface Run {
  readonly coilId: string;
  readonly span: Interval;
}

interface Joint {
  readonly footageMm: number;
  readonly leavingCoilId: string;
  readonly enteringCoilId: string;
}

interface JoiningSplice {
  readonly id: string;
  readonly leavingCoilId: string;
  readonly enteringCoilId: string;
}

export interface SpliceCount {
  /** Stretches of one coil, one after another. */
  readonly coils: number;
  readonly splices: number;
  /** coils = splices + 1. */
  readonly agrees: boolean;
  /** Where one coil follows another and no splice names the two. */
  readonly withoutSplice: readonly Joint[];
  /** Splices of two coils that do not follow one another. */
  readonly withoutJointIds: readonly string[];
}

/** Coils against splices: every change of coil is one splice. Segments in order of footage. */
export function countSplices(segments: readonly Run[], splices: readonly JoiningSplice[]): SpliceCount {
  const joints = segments.slice(1).flatMap((after, index): Joint[] => {
    const before = segments[index];
    if (before === undefined || before.coilId === after.coilId) return [];
    return [{ footageMm: after.span.fromMm, leavingCoilId: before.coilId, enteringCoilId: after.coilId }];
  });
  const coils = segments.length === 0 ? 0 : joints.length + 1;
  return {
    coils,
    splices: splices.length,
    agrees: isOneFewer(splices.length, coils),
    withoutSplice: joints.filter((joint) => !splices.some((splice) => joins(splice, joint))),
    withoutJointIds: splices.filter((splice) => !joints.some((joint) => joins(splice, joint))).map(({ id }) => id),
  };
}

/** One splice fewer than stretches of coil; none where there is no pipe yet. */
export const isOneFewer = (splices: number, coils: number): boolean => splices === Math.max(0, coils - 1);

const joins = (splice: JoiningSplice, joint: Joint): boolean =>
  splice.leavingCoilId === joint.leavingCoilId && splice.enteringCoilId === joint.enteringCoilId;
