import { type Calibration, inOrder } from './calibration.js';
import { type Day, localDay, type Moment, normalInstant, offsetText } from './day.js';
import { type DoubtfulSpan, spansInDoubt } from './doubtful-spans.js';
import { type FoundDeviation, judged, type JudgedCalibration, type ToleranceState } from './tolerance.js';

/** What can be said of an instrument at an event, best to worst; the order is our own choice. */
export const INSTRUMENT_STATES = ['good', 'overdue', 'found-out', 'left-out', 'not-calibrated'] as const;
export type InstrumentState = (typeof INSTRUMENT_STATES)[number];

export interface InstrumentReason {
  readonly state: Exclude<InstrumentState, 'good'>;
  readonly words: string;
  /** Of `found-out`: the instant of the calibration that found it, later than the event; null for what was plain at the event. */
  readonly knownSince: string | null;
}

/** Whether an instrument was good at an event, and why. */
export interface InstrumentAnswer {
  readonly state: InstrumentState;
  /** Every reason that applies, gravest first; none when good. */
  readonly reasons: readonly InstrumentReason[];
  readonly because: string;
  /** Id of the last calibration by then; null when there was none. */
  readonly calibration: string | null;
  /** Its due day. */
  readonly dueOn: Day | null;
  /** What the next calibration found before adjusting: only `in` shows that the instrument was still good. */
  readonly closedBy: ToleranceState | 'not-taken' | 'none-yet';
  readonly localDay: Day;
}

const CLOSING: Readonly<Record<InstrumentAnswer['closedBy'], string>> = {
  in: 'found in tolerance at the next calibration',
  out: 'found out of tolerance at the next calibration',
  'not-shown': 'not shown to be in tolerance at the next calibration',
  'not-taken': 'the span is not closed by an as-found: at the next calibration none was taken',
  'none-yet': 'the span is not closed yet: no later calibration',
};

/**
 * Whether the instrument was good at the event, by the calibrations that the caller passes: to ask what was known at some
 * time, pass only those known then. The list may come in any order.
 * - A use at the very instant of a calibration comes after it; the due day counts to its end, local time of the event.
 * - `left-out`: the last calibration left it out of tolerance, or not shown to be in it.
 * - `found-out`: a later as-found puts the use in doubt (see `doubtfulSpans`). In doubt is not wrong: see `marginAgainst`.
 * Throws as `inOrder` and `localDay` do.
 */
export function instrumentAt(calibrations: readonly Calibration[], event: Moment): InstrumentAnswer {
  const all = inOrder(calibrations).map(judged);
  const at = normalInstant(event.instant);
  const onDay = localDay(event);
  const current = all.findLast(({ calibration }) => calibration.instant <= at) ?? null;
  const next = all.find(({ calibration }) => calibration.instant > at);
  const span = spansInDoubt(all).find(({ from, to }) => (from === null || from <= at) && at < to);
  const reasons = [
    ...currentReasons(current, onDay),
    ...(span === undefined ? [] : [foundOutReason(span)]),
  ].sort((a, b) => INSTRUMENT_STATES.indexOf(b.state) - INSTRUMENT_STATES.indexOf(a.state));
  const state = reasons[0]?.state ?? 'good';
  const closedBy = next?.found ?? 'none-yet';
  const where = `on ${onDay}, local day at ${offsetText(event.offsetMinutes)}`;
  const good = `calibrated at ${String(current?.calibration.instant)}, ${dueText(current)}`;
  const why = reasons.length === 0 ? [good] : reasons.map(({ words }) => words);
  return {
    state,
    reasons,
    because: `${state === 'good' ? 'good' : 'not good'} ${where}: ${[...why, CLOSING[closedBy]].join('; ')}`,
    calibration: current?.calibration.id ?? null,
    dueOn: current?.calibration.dueOn ?? null,
    closedBy,
    localDay: onDay,
  };
}

function currentReasons(current: JudgedCalibration | null, onDay: Day): InstrumentReason[] {
  if (current === null) return [{ state: 'not-calibrated', words: 'no calibration by then', knownSince: null }];
  const { calibration: { instant, dueOn }, left, leftOutside } = current;
  const reasons: InstrumentReason[] = [];
  if (left !== 'in') {
    const how = left === 'out' ? 'out of tolerance' : 'not shown to be in tolerance';
    reasons.push({ state: 'left-out', words: `left ${how} at ${instant}: ${deviationsText(leftOutside)}`, knownSince: null });
  }
  // Days as texts sort as days do.
  if (dueOn !== null && onDay > dueOn) reasons.push({ state: 'overdue', words: `overdue: calibration was due on ${dueOn}`, knownSince: null });
  return reasons;
}

function foundOutReason({ from, to, found, deviations }: DoubtfulSpan): InstrumentReason {
  const how = found === 'out' ? 'out of tolerance' : 'not shown to be in tolerance';
  const since = from === null ? 'every use before' : `every use from ${from}`;
  const words = `found ${how} at ${to}, known only since then: ${deviationsText(deviations)}; ${since} up to then is in doubt`;
  return { state: 'found-out', words, knownSince: to };
}

function deviationsText(deviations: readonly FoundDeviation[]): string {
  return deviations.map(({ when, point, deviation, min, max, unit }) => `${when} ${deviation} ${unit} at ${point}, allowed ${min} to ${max}`).join(', ');
}

function dueText(current: JudgedCalibration | null): string {
  const dueOn = current?.calibration.dueOn ?? null;
  return dueOn === null ? 'no due day stated' : `due on ${dueOn}`;
}
