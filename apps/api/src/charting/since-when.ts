import { instantOf, microseconds } from '#libs/persistence';
import type { RowPoint } from '../characteristics/chart-row.js';
import type { StringModel } from '../line/length-models.service.js';

/** Since when a point can be seen: the last of its readings; of samples, the counter reading after its pipe was welded. Null where nothing tells. */
export function seenSince({ readings, place }: Pick<RowPoint, 'readings' | 'place'>, { lengths }: Pick<StringModel, 'lengths'>): string | null {
  const observed = readings.flatMap(({ observedAt }) => observedAt ?? []);
  if (observed.length > 0) return observed.reduce((last, one) => (microseconds(one) > microseconds(last) ? one : last));
  if (place === null) return null;
  const welded = lengths.lengths.weldFootage.find(({ footageMm }) => footageMm >= place.toMm);
  return welded === undefined ? null : instantOf(welded.atUs);
}

export const minutesBetween = (from: string, to: string): number => Math.floor((microseconds(to) - microseconds(from)) / 60e6);
