import { IntervalSet, type Interval } from '#libs/intervals';
import type { PiecewiseLinearMap } from '#libs/length';
import type { ControlPlanItem, PlanException, PlanScope } from '../control-plans/control-plan-item.js';
import { zoneOf } from '../inspection-coverage/joints.js';

/** Pipe with its joints, as far as a plan goes by them. */
export interface PlannedGround {
  /** Made and not cut out. */
  readonly pipe: IntervalSet;
  readonly cutOut: IntervalSet;
  /** Footage to net length, with all cut-outs. */
  readonly net: PiecewiseLinearMap;
  readonly splices: readonly Interval[];
  /** What was cut out: each a re-join. */
  readonly cuts: readonly Interval[];
}

/** From which footage on a plan holds, until the next one does. */
export interface PlanStart {
  readonly fromMm: number;
}

/** The pipe that each of some plans holds for, in their order; plans are in order of footage. */
export function plannedPipe(plans: readonly PlanStart[], pipe: IntervalSet): IntervalSet[] {
  return plans.map(({ fromMm }, index) => {
    const toMm = plans[index + 1]?.fromMm ?? Number.MAX_SAFE_INTEGER;
    return fromMm < toMm ? pipe.intersect({ fromMm, toMm }) : IntervalSet.empty;
  });
}

/** The pipe of which an item demands something, of the pipe that its plan holds for. */
export function demandedPipe({ at, marginMm, exceptAt }: Pick<ControlPlanItem, 'at' | 'marginMm' | 'exceptAt'>, planned: IntervalSet, ground: PlannedGround): IntervalSet {
  const excepted = exceptAt.reduce((sum, one: PlanException) => sum.union(placesOf(one.at, one.marginMm, ground)), IntervalSet.empty);
  return planned.intersect(placesOf(at, marginMm ?? 0, ground)).subtract(excepted);
}

/** Joints with a margin to both sides; the lead end, and the last pipe that was made so far. */
function placesOf(at: PlanScope, marginMm: number, ground: PlannedGround): IntervalSet {
  const { pipe, cutOut, net, splices, cuts } = ground;
  if (at === 'pipe') return pipe;
  if (at === 'splices') return unionOf(splices.map((span) => zoneOf({ span, kind: 'splice' }, marginMm, net, cutOut)));
  if (at === 're-joins') return unionOf(cuts.map((span) => zoneOf({ span, kind: 're-join' }, marginMm, net, cutOut)));
  const madeMm = pipe.hull()?.toMm ?? 0;
  const netMm = net.at(madeMm);
  const [fromNet, toNet] = at === 'lead-end' ? [0, Math.min(marginMm, netMm)] : [Math.max(0, netMm - marginMm), netMm];
  return fromNet < toNet ? IntervalSet.of({ fromMm: net.upperInverseAt(fromNet), toMm: net.upperInverseAt(toNet) }).subtract(cutOut) : IntervalSet.empty;
}

const unionOf = (sets: readonly IntervalSet[]): IntervalSet => IntervalSet.from(sets.flatMap(({ intervals }) => intervals));
