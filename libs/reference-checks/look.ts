import { interval, IntervalSet } from '#libs/intervals';
import { type Bracket, severity } from './bracket.js';
import { footageBetween, type InspectionRun, type Piece, piecesInOrder, strokes } from './inspection-run.js';

/** One inspection of pipe between two checks, in one go along it. */
export interface Look<R, C> {
  readonly run: R;
  readonly bracket: Bracket<C>;
  /** When it began and ended, microseconds since 1970 UTC. */
  readonly fromUs: number;
  readonly toUs: number;
  readonly on: IntervalSet;
}

/**
 * The looks of a run in order of time. A reversal begins another look, so that a metre read twice has two. A millimetre in
 * which a check fell counts for the worse side of it, and for the earlier one of equals. What was inspected at or after the
 * instant of a check came after it. Of footage known by one instant, at which a check was made, nobody knows whether it came
 * before or after: it counts as the worse.
 */
export function looksOf<R extends InspectionRun, C>(run: R, brackets: readonly Bracket<C>[]): readonly Look<R, C>[] {
  return strokes(piecesInOrder(run)).flatMap((pieces) => {
    let latestUs = Number.NEGATIVE_INFINITY;
    const upToUs = pieces.map(({ toUs }) => (latestUs = Math.max(latestUs, toUs)));
    const looks = brackets.flatMap((bracket) => {
      // Only what can touch the bracket is looked at: of a long run with many checks all else would cost the most.
      const from = firstIndex(upToUs, (us) => us >= bracket.fromUs);
      const to = firstIndex(pieces, ({ fromUs }) => fromUs > bracket.toUs);
      return lookWithin(run, pieces.slice(from, to), bracket);
    });
    let taken = IntervalSet.empty;
    const own = new Map<Look<R, C>, IntervalSet>();
    for (const look of looks.toSorted((a, b) => severity(b.bracket.state) - severity(a.bracket.state))) {
      own.set(look, look.on.subtract(taken).intersect(run.valid));
      taken = taken.union(look.on);
    }
    return looks.map((look) => ({ ...look, on: own.get(look) ?? look.on })).filter(({ on }) => !on.isEmpty);
  });
}

function lookWithin<R extends InspectionRun, C>(run: R, pieces: readonly Piece[], bracket: Bracket<C>): Look<R, C>[] {
  const parts = pieces.flatMap((piece) => {
    const [fromUs, toUs] = [Math.max(piece.fromUs, bracket.fromUs), Math.min(piece.toUs, bracket.toUs)];
    const isTouched = piece.fromUs === piece.toUs ? fromUs <= toUs : fromUs < toUs;
    return isTouched ? [{ fromUs, toUs, ...footageBetween(piece, fromUs, toUs) }] : [];
  });
  const [first, last] = [parts[0], parts.at(-1)];
  if (first === undefined || last === undefined) return [];
  return [{ run, bracket, fromUs: first.fromUs, toUs: last.toUs, on: IntervalSet.from(parts.map(({ fromMm, toMm }) => interval(fromMm, toMm))) }];
}

/** Index of the first for which `holds`, which stays true from there on; the length of the list where there is none. */
function firstIndex<T>(list: readonly T[], holds: (one: T) => boolean): number {
  let [low, high] = [0, list.length];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (holds(list[middle] as T)) high = middle;
    else low = middle + 1;
  }
  return low;
}
