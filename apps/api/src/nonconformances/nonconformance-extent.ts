import { IntervalSet, type Interval } from '#libs/intervals';
import { Refused } from '../http/problem.js';
import type { GivenInterval, RestsOn } from '../line/given-place.js';
import type { LineKnowledge, PlacedColumns } from '../line/line-knowledge.js';

/** The columns of a nonconformance that are derived from the places given. */
export interface ExtentColumns {
  readonly extent: readonly Interval[];
  readonly restsOn: readonly RestsOn[];
}

/** A nonconformance of strip only: no pipe, and nothing that it rests on. */
export const NO_PIPE: ExtentColumns = { extent: [], restsOn: [] };

/** The footage of places given as seen at `observedAt`. Refuses a place that has none, naming which one. */
export function extentOf(given: readonly GivenInterval[], observedAt: string, line: LineKnowledge): ExtentColumns {
  const placed = given.map((interval, index) => placedAt(index, () => line.placed(interval, observedAt)));
  const restsOn = new Map(placed.flatMap((columns) => columns.restsOn).map((reference) => [reference.id, reference]));
  return { extent: IntervalSet.from(placed.map(({ span }) => span)).intervals, restsOn: [...restsOn.values()] };
}

/** True when both say the same footage, derived from the same records. */
export function sameExtent(a: ExtentColumns, b: ExtentColumns): boolean {
  const ids = ({ restsOn }: ExtentColumns): string => restsOn.map(({ id }) => id).join();
  return footageText(a) === footageText(b) && ids(a) === ids(b);
}

/** The footage as the history says it. */
export function footageText({ extent }: ExtentColumns): string {
  return extent.map(({ fromMm, toMm }) => `[${fromMm}, ${toMm})`).join(', ');
}

function placedAt(index: number, place: () => PlacedColumns): PlacedColumns {
  try {
    return place();
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    const errors = error.errors.map((problem) => ({ ...problem, field: `extents[${index}].${problem.field}` }));
    throw new Refused(error.status, error.code, error.message, errors, error.members);
  }
}
