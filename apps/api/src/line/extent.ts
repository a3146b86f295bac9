import { IntervalSet, type Interval } from '#libs/intervals';
import { Refused } from '../http/problem.js';
import type { ExtentInput } from './extent.dto.js';
import type { GivenInterval, RestsOn } from './given-place.js';
import type { LineKnowledge, PlacedColumns } from './line-knowledge.js';
import type { Move } from './places.service.js';

/** The columns of a record of several places that are derived from the places given. */
export interface ExtentColumns {
  readonly extent: readonly Interval[];
  readonly restsOn: readonly RestsOn[];
}

/** A record that gives no place: no pipe, and nothing that it rests on. */
export const NO_PIPE: ExtentColumns = { extent: [], restsOn: [] };

/** A place of a list as it was given, to be kept. */
export const givenOf = ({ from, to }: ExtentInput): GivenInterval => ({ from, to: to ?? null });

/** The footage of places given as seen at `observedAt`. Refuses a place that has none, naming which one of the list. */
export function extentOf(list: string, given: readonly GivenInterval[], observedAt: string, line: LineKnowledge): ExtentColumns {
  const placed = given.map((interval, index) => placedAt(`${list}[${index}]`, () => line.placed(interval, observedAt)));
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

/** The new columns of a record of several places; null when nothing moved. */
export function movedExtent(before: ExtentColumns, columns: ExtentColumns): Move | null {
  if (sameExtent(before, columns)) return null;
  return { columns, said: `footage ${footageText(before)} mm became ${footageText(columns)} mm` };
}

function placedAt(place: string, placed: () => PlacedColumns): PlacedColumns {
  try {
    return placed();
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    const errors = error.errors.map((problem) => ({ ...problem, field: `${place}.${problem.field}` }));
    throw new Refused(error.status, error.code, error.message, errors, error.members);
  }
}
