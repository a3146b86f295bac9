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
    const looks = brackets.flatMap((bracket) => lookWithin(run, pieces, bracket));
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
