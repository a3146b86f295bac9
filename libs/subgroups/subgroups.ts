import type { Interval } from '#libs/intervals';
import { Boundaries } from './boundaries.js';
import { Exclusions } from './exclusions.js';
import { checkPlan, metres, type Boundary, type Exclusion, type SubgroupPlan } from './plan.js';

/** Readings that make one point. */
export interface Subgroup {
  /** Their indices, rising. */
  readonly readings: readonly number[];
  /** From the beginning of the first to the greatest end. */
  readonly place: Interval;
  /** A boundary lies between it and the subgroup before it. */
  readonly beginsAnew: boolean;
}

export interface LeftOutPlace {
  /** Its index. */
  readonly reading: number;
  readonly because: string;
}

export interface Subgroups {
  readonly subgroups: readonly Subgroup[];
  /** In the order of the readings. */
  readonly leftOut: readonly LeftOutPlace[];
}

interface Candidate extends Interval {
  readonly reading: number;
  readonly stretch: number;
}

/**
 * Puts readings into subgroups, from the beginning of each stretch between two boundaries on: the first reading at least `everyMm`
 * beyond the first one of the subgroup before, and those that follow it within `withinMm`, `size` in all. Each reading is in one
 * subgroup, or left out with the reason.
 * @param places of the readings, whole mm, half-open, in rising order of their beginnings
 * Throws RangeError when they are not in that order, and as `checkPlan`. Cost O((n + b + x) log) and, for each reading left out by an exclusion, O(x).
 */
export function subgroupsOf(places: readonly Interval[], boundaries: readonly Boundary[], exclusions: readonly Exclusion[], plan: SubgroupPlan): Subgroups {
  checkPlan(plan);
  const [between, excluded] = [new Boundaries(boundaries), new Exclusions(exclusions)];
  const candidates: Candidate[] = [];
  const leftOut: LeftOutPlace[] = [];
  places.forEach((place, reading) => {
    if (reading > 0 && place.fromMm < (places[reading - 1] as Interval).fromMm) throw new RangeError(`reading ${reading} begins before the one before it`);
    const over = between.within(place);
    const because = excluded.reasonAt(place) ?? (over === null ? null : `over a boundary: ${over.label}`);
    if (because === null) candidates.push({ ...place, reading, stretch: between.upTo(place.fromMm) });
    else leftOut.push({ reading, because });
  });
  const taken = takenFrom(candidates, between, plan);
  return { subgroups: taken.subgroups, leftOut: [...leftOut, ...taken.leftOut].sort((one, other) => one.reading - other.reading) };
}

function takenFrom(candidates: readonly Candidate[], between: Boundaries, { size, withinMm, everyMm }: SubgroupPlan): Subgroups {
  const subgroups: Subgroup[] = [];
  const leftOut: LeftOutPlace[] = [];
  let before: Candidate | null = null;
  for (let index = 0; index < candidates.length;) {
    const first = candidates[index] as Candidate;
    const last = candidates[index + size - 1];
    if (before !== null && first.stretch === before.stretch && first.fromMm < before.fromMm + everyMm) {
      leftOut.push({ reading: first.reading, because: `between subgroups: less than ${metres(everyMm)} after the one before began` });
      index += 1;
    } else if (last === undefined || last.stretch !== first.stretch || last.fromMm > first.fromMm + withinMm) {
      leftOut.push({ reading: first.reading, because: tooFew(first, between, withinMm) });
      index += 1;
    } else {
      subgroups.push({ ...madeOf(candidates.slice(index, index + size)), beginsAnew: before !== null && before.stretch !== first.stretch });
      before = first;
      index += size;
    }
  }
  return { subgroups, leftOut };
}

function madeOf(readings: readonly Candidate[]): Omit<Subgroup, 'beginsAnew'> {
  const toMm = readings.reduce((most, one) => Math.max(most, one.toMm), -Infinity);
  return { readings: readings.map(({ reading }) => reading), place: { fromMm: (readings[0] as Candidate).fromMm, toMm } };
}

function tooFew({ fromMm }: Candidate, between: Boundaries, withinMm: number): string {
  const next = between.after(fromMm);
  return next !== null && next.atMm <= fromMm + withinMm ? `too few beside it before ${next.label}` : `too few beside it within ${metres(withinMm)}`;
}
