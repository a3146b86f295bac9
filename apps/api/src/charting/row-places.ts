import type { Interval } from '#libs/intervals';
import type { RowPoint } from '../characteristics/chart-row.js';

/** Points that are not to count: those that meet one of these places, and those without a place by their label. */
export interface Removal {
  readonly places: readonly Interval[];
  readonly labels: readonly string[];
}

export const isRemoved = ({ place, label }: Pick<RowPoint, 'place' | 'label'>, { places, labels }: Removal): boolean =>
  (place === null ? labels.includes(label) : places.some((one) => meets(one, place)));

export const meets = (one: Interval, other: Interval): boolean => one.fromMm < other.toMm && other.fromMm < one.toMm;

/** What of a removal meets no point: it says something else than was meant. */
export function unmet(points: readonly RowPoint[], { places, labels }: Removal): Removal {
  return {
    places: places.filter((one) => !points.some(({ place }) => place !== null && meets(one, place))),
    labels: labels.filter((label) => !points.some((point) => point.place === null && point.label === label)),
  };
}
