/**
 * Footage to net length: n_t(p) = p − (length of [0, p) removed by time t). Flat over removed pipe.
 */
import { IntervalSet } from '#libs/intervals';
import { lastIndexWhere } from './last-index-where.js';
import { LengthError, refuseEmptyOrReversed } from './length-error.js';
import { PiecewiseLinearMap, type Knot } from './piecewise-linear-map.js';
import type { CutOut } from './string-lengths.js';

/**
 * The net length map with the cut-outs that had happened by `upToUs` (default: all of them).
 * @throws LengthError for an empty or reversed cut-out, and 'bad-input' when two cut-outs remove the same pipe
 */
export function netLengthMap(cutOuts: readonly CutOut[], upToUs = Infinity): PiecewiseLinearMap {
  const happened = cutOuts.filter(({ atUs }) => atUs <= upToUs);
  const removed = IntervalSet.from(happened);
  if (removed.totalLengthMm !== happened.reduce((sum, { fromMm, toMm }) => sum + toMm - fromMm, 0)) {
    throw new LengthError('bad-input', 'two cut-outs remove the same pipe');
  }
  const knots: Knot[] = [];
  let removedMm = 0;
  for (const { fromMm, toMm } of removed.intervals) {
    const netMm = fromMm - removedMm;
    knots.push({ x: fromMm, y: netMm }, { x: toMm, y: netMm });
    removedMm += toMm - fromMm;
  }
  return PiecewiseLinearMap.through(knots.length > 0 ? knots : [{ x: 0, y: 0 }], { before: 1, after: 1 });
}

interface NetState {
  map: PiecewiseLinearMap;
  removed: IntervalSet;
}

/** The net length maps of a string at every time, built once. */
export class NetLengths {
  private readonly cutOuts: readonly CutOut[];
  private readonly states: readonly NetState[];

  /** @throws LengthError as netLengthMap does */
  constructor(cutOuts: readonly CutOut[]) {
    cutOuts.forEach(refuseEmptyOrReversed);
    this.cutOuts = [...cutOuts].sort((a, b) => a.atUs - b.atUs);
    this.states = [-Infinity, ...this.cutOuts.map(({ atUs }) => atUs)].map((atUs) => ({
      map: netLengthMap(cutOuts, atUs),
      removed: IntervalSet.from(cutOuts.filter((cutOut) => cutOut.atUs <= atUs)),
    }));
  }

  /** The map with the cut-outs that had happened by `atUs`; at Infinity, with all of them. O(log k). */
  at(atUs: number): PiecewiseLinearMap {
    return this.stateAt(atUs).map;
  }

  /** The pipe removed by `atUs`. */
  removedBy(atUs: number): IntervalSet {
    return this.stateAt(atUs).removed;
  }

  /** The cut-out that had removed this footage by `atUs`, or null. */
  findCutOut(footageMm: number, atUs: number): CutOut | null {
    if (!this.stateAt(atUs).removed.contains(Math.floor(footageMm))) return null;
    return this.cutOuts.find((cut) => cut.atUs <= atUs && cut.fromMm <= footageMm && footageMm < cut.toMm) ?? null;
  }

  /** The cut-outs that had happened by `atUs` below this footage, in order of time. */
  cutOutsBelow(footageMm: number, atUs: number): readonly CutOut[] {
    return this.cutOuts.filter((cut) => cut.atUs <= atUs && cut.fromMm < footageMm);
  }

  private stateAt(atUs: number): NetState {
    const state = this.states[lastIndexWhere(this.cutOuts, (cut) => cut.atUs <= atUs) + 1];
    if (state === undefined) throw new RangeError(`no net lengths at ${atUs}`);
    return state;
  }
}
