import { type Calibration, inOrder } from './calibration.js';
import { judged, type JudgedCalibration } from './tolerance.js';
import { spansInDoubt } from './doubtful-spans.js';

/** A half-open span of time `[from, to)`; instants in UTC with six decimals, null where it has no such end. */
export interface TimeSpan {
  readonly from: string | null;
  readonly to: string | null;
}

/** Why a calibration puts a span of use in doubt. */
export type DoubtReason = 'found-out' | 'left-out' | 'not-closed';

/** A span of use that one calibration puts in doubt. */
export interface CalibrationDoubt extends TimeSpan {
  readonly reason: DoubtReason;
  /** Certainly in doubt, or possibly: nobody can tell. */
  readonly isCertain: boolean;
}

/**
 * The spans of use that the calibration with an id puts in doubt, in order of time:
 * - found out of tolerance, or not shown to be in it: back to the last in-tolerance state (see `doubtfulSpans`), certainly;
 * - its as-found not taken: back to the calibration before, possibly (see `unclosedSpans`);
 * - left out of tolerance, or not shown to be in it: on to the next calibration, certainly.
 * One that found and left the instrument in tolerance puts none. The list may come in any order. Throws as `inOrder` does,
 * and RangeError when none has the id.
 */
export function doubtOfCalibration(calibrations: readonly Calibration[], id: string): readonly CalibrationDoubt[] {
  const all = inOrder(calibrations).map(judged);
  const index = all.findIndex(({ calibration }) => calibration.id === id);
  const one = all[index];
  if (one === undefined) throw new RangeError(`no calibration ${id}`);
  const before = all[index - 1]?.calibration.instant ?? null;
  const next = all[index + 1]?.calibration.instant ?? null;
  const { instant } = one.calibration;
  return [...backwards(one, all, before), ...(one.left === 'in' ? [] : [{ from: instant, to: next, reason: 'left-out', isCertain: true } as const])];
}

function backwards({ calibration: { id, instant }, found }: JudgedCalibration, all: readonly JudgedCalibration[], before: string | null): CalibrationDoubt[] {
  if (found === 'not-taken') return [{ from: before, to: instant, reason: 'not-closed', isCertain: false }];
  return spansInDoubt(all).filter(({ foundBy }) => foundBy === id).map(({ from, to }) => ({ from, to, reason: 'found-out', isCertain: true }));
}

/**
 * The spans of use that rest on some of an instrument's calibrations: from each to the next one, and back to the one before
 * where its as-found was taken, which shows whether the instrument was still good. Spans that meet or overlap are one.
 * The list may come in any order. Throws as `inOrder` does.
 */
export function spansRestingOn(calibrations: readonly Calibration[], isMeant: (id: string) => boolean): readonly TimeSpan[] {
  const all = inOrder(calibrations);
  return all.reduce<readonly TimeSpan[]>((spans, { id, asFound, instant }, index) => {
    if (!isMeant(id)) return spans;
    const from = asFound === 'not-taken' ? instant : all[index - 1]?.instant ?? null;
    return joined(spans, { from, to: all[index + 1]?.instant ?? null });
  }, []);
}

/** True when a span holds an instant (UTC, six decimals: such texts sort as instants do). */
export function isWithinSpan({ from, to }: TimeSpan, instant: string): boolean {
  return (from === null || instant >= from) && (to === null || instant < to);
}

/** The spans with one more that begins in or after the last. */
function joined(spans: readonly TimeSpan[], next: TimeSpan): readonly TimeSpan[] {
  const last = spans.at(-1);
  const meets = last !== undefined && (last.to === null || next.from === null || next.from <= last.to);
  return meets ? [...spans.slice(0, -1), { from: last.from, to: next.to }] : [...spans, next];
}
