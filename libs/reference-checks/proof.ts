import { type Interval, interval, IntervalSet } from '#libs/intervals';
import { brackets, type BracketState, severity } from './bracket.js';
import type { InspectionRun } from './inspection-run.js';
import { type Look, looksOf } from './look.js';
import type { ReferenceCheck } from './reference-check.js';
import { textOrder } from './text-order.js';

/**
 * Which look counts where pipe was inspected more than once: the one in the best state, of equals the latest; or the latest,
 * whatever its state. The project chooses; the others are kept and told beside it.
 */
export const REPEAT_RULES = ['best', 'latest'] as const;
export type RepeatRule = (typeof REPEAT_RULES)[number];

export type ProofState = BracketState | 'missing';

/** Pipe of which the same looks tell. */
export interface ProvenStretch<R, C> extends Interval {
  readonly state: ProofState;
  /** The look whose state it is; null where none was valid. */
  readonly counts: Look<R, C> | null;
  /** The other looks at it, in order of time. */
  readonly others: readonly Look<R, C>[];
}

/** The four sets are apart from each other, and together the pipe that was asked for. */
export interface Proof<R, C> {
  /** Inspected between two checks that passed. */
  readonly confirmed: IntervalSet;
  /** Inspected after the last check that passed; none was made later. */
  readonly provisional: IntervalSet;
  readonly suspect: IntervalSet;
  /** Not inspected validly. It is not pipe without indications. */
  readonly missing: IntervalSet;
  /** The same in order of footage, with what says so. */
  readonly stretches: readonly ProvenStretch<R, C>[];
}

/**
 * What the reference checks of one channel prove of its inspected footage, in `asked`. The order of `runs` and `checks` plays no part, so
 * that a check that becomes known late gives the same answer. A check that is overdue changes nothing here: `unmetOccasions`
 * tells of it. Throws RangeError as `piecesInOrder` and `checksInOrder` do.
 */
export function proofOf<R extends InspectionRun, C extends ReferenceCheck>(
  runs: readonly R[], checks: readonly C[], repeats: RepeatRule, asked: IntervalSet,
): Proof<R, C> {
  const bracketed = brackets(checks);
  const looks = runs.flatMap((run) => looksOf(run, bracketed)).map((look) => ({ ...look, on: look.on.intersect(asked) }));
  const inTime = looks.toSorted((a, b) => a.fromUs - b.fromUs || a.toUs - b.toUs || textOrder(a.run.id, b.run.id));
  const stretches = [...seenStretches(inTime, repeats), ...missingStretches<R, C>(inTime, asked)].sort((a, b) => a.fromMm - b.fromMm);
  const inState = (state: ProofState): IntervalSet => IntervalSet.from(stretches.filter((one) => one.state === state));
  return { confirmed: inState('confirmed'), provisional: inState('provisional'), suspect: inState('suspect'), missing: inState('missing'), stretches };
}

function missingStretches<R, C>(looks: readonly Look<R, C>[], asked: IntervalSet): ProvenStretch<R, C>[] {
  const seen = IntervalSet.from(looks.flatMap(({ on }) => on.intervals));
  return asked.subtract(seen).intervals.map(({ fromMm, toMm }) => ({ ...interval(fromMm, toMm), state: 'missing', counts: null, others: [] }));
}

/** Walks along the pipe from one end of a look to the next, with the looks that are open there. */
function seenStretches<R, C>(inTime: readonly Look<R, C>[], repeats: RepeatRule): ProvenStretch<R, C>[] {
  const edges = inTime.flatMap(({ on }, nth) => on.intervals.flatMap(({ fromMm, toMm }) => [{ atMm: fromMm, nth, opens: true }, { atMm: toMm, nth, opens: false }]));
  edges.sort((a, b) => a.atMm - b.atMm);
  const open = new Set<number>();
  const found: ProvenStretch<R, C>[] = [];
  edges.forEach(({ atMm, nth, opens }, index) => {
    if (opens) open.add(nth);
    else open.delete(nth);
    const toMm = edges[index + 1]?.atMm ?? atMm;
    if (toMm === atMm || open.size === 0) return;
    const here = [...open].sort((a, b) => a - b).flatMap((at) => inTime[at] ?? []);
    const counts = here.reduce((best, look) => (repeats === 'latest' || isAsGood(look, best) ? look : best));
    found.push({ ...interval(atMm, toMm), state: counts.bracket.state, counts, others: here.filter((look) => look !== counts) });
  });
  return found;
}

const isAsGood = <R, C>(look: Look<R, C>, other: Look<R, C>): boolean => severity(look.bracket.state) <= severity(other.bracket.state);
