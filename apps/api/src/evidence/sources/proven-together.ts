import { IntervalSet } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import type { RecordLink } from '../../trace/trace.dto.js';

/** Pipe for which records show one thing of several that are asked for. */
export interface Proof {
  readonly on: IntervalSet;
  readonly because: string;
  readonly records: readonly RecordLink[];
  /** When each record was first entered. */
  readonly enteredAt: readonly string[];
}

/**
 * The pipe for which each of several things is shown, with what shows all of them; pieces do not overlap. Of several proofs of one
 * thing the one that was complete first counts, so that a later one makes nothing late. None where nothing is asked for.
 */
export function provenTogether(things: readonly (readonly Proof[])[]): Proof[] {
  const [first, ...others] = things.map(firstOfEach);
  return others.reduce<readonly Proof[]>((together, next) => together.flatMap((one) => next.flatMap((other) => both(one, other))), first ?? []).slice();
}

/** Each metre under the proof of it that was complete first. */
function firstOfEach(proofs: readonly Proof[]): Proof[] {
  let taken = IntervalSet.empty;
  return proofs.toSorted((one, other) => completeUs(one) - completeUs(other)).flatMap((proof) => {
    const on = proof.on.subtract(taken);
    taken = taken.union(on);
    return on.isEmpty ? [] : [{ ...proof, on }];
  });
}

const completeUs = ({ enteredAt }: Proof): number => enteredAt.reduce((last, instant) => Math.max(last, microseconds(instant)), 0);

function both(one: Proof, other: Proof): Proof[] {
  const on = one.on.intersect(other.on);
  if (on.isEmpty) return [];
  const isNew = ({ id }: RecordLink): boolean => !one.records.some((known) => known.id === id);
  const because = one.because === other.because ? one.because : `${one.because}; ${other.because}`;
  return [{ on, because, records: [...one.records, ...other.records.filter(isNew)], enteredAt: [...one.enteredAt, ...other.enteredAt] }];
}
