import { instantOf, microseconds } from '#libs/persistence';
import type { RowPoint } from '../characteristics/chart-row.js';
import type { StringModel } from '../line/length-models.service.js';
import { firstWhere } from '../signals/block-span.js';

type Welded = StringModel['lengths']['lengths']['weldFootage'];

/** Since when a point can be seen: the last of its readings; of samples, the counter reading after its pipe was welded. Null where nothing tells. */
export function seenSince({ readings, place }: Pick<RowPoint, 'readings' | 'place'>, { lengths }: Pick<StringModel, 'lengths'>): string | null {
  const observed = readings.flatMap(({ observedAt }) => observedAt ?? []);
  if (observed.length > 0) return observed.reduce((last, one) => (microseconds(one) > microseconds(last) ? one : last));
  if (place === null) return null;
  const { weldFootage } = lengths.lengths;
  const furthest = furthestOf(weldFootage);
  const welded = weldFootage[firstWhere(0, furthest.length, (nth) => (furthest[nth] as number) >= place.toMm)];
  return welded === undefined ? null : instantOf(welded.atUs);
}

/** How far the line had come by an instant, by the counter readings up to it, mm; 0 before any. */
export function madeUntil(instant: string, { lengths }: Pick<StringModel, 'lengths'>): number {
  const { weldFootage } = lengths.lengths;
  const untilUs = microseconds(instant);
  const after = firstWhere(0, weldFootage.length, (nth) => (weldFootage[nth]?.atUs ?? Infinity) > untilUs);
  return after === 0 ? 0 : Math.max(0, Math.round(furthestOf(weldFootage)[after - 1] as number));
}

const known = new WeakMap<Welded, Float64Array>();

/** Of each reading, how far the line had come by then: it backs up now and then. */
function furthestOf(weldFootage: Welded): Float64Array {
  const found = known.get(weldFootage);
  if (found !== undefined) return found;
  let furthestMm = -Infinity;
  const furthest = Float64Array.from(weldFootage, ({ footageMm }) => (furthestMm = Math.max(furthestMm, footageMm)));
  known.set(weldFootage, furthest);
  return furthest;
}

export const minutesBetween = (from: string, to: string): number => Math.floor((microseconds(to) - microseconds(from)) / 60e6);
