import { type Coverage, coverageOf } from './coverage.js';
import { type DaySpan, gapsBefore, spanAt } from './day-spans.js';
import { type Day, dayNumber, dayText, localDay, offsetText } from './day.js';
import { checkFromOne, checkQualification, type Qualification, type QualifiedEvent } from './qualification-record.js';
import { gravity, type QualificationReason, type QualificationState } from './qualification-state.js';
import { type ScopeFinding, scopeFindings } from './scope.js';
import { timeReasons } from './time-reasons.js';

/** Whether a qualification covered an event, and why. */
export interface QualificationAnswer {
  /** The gravest of the reasons, or valid. */
  readonly state: QualificationState;
  /** Every reason that applies, gravest first; none when valid. */
  readonly reasons: readonly QualificationReason[];
  readonly because: string;
  /** The last day on which it stays valid without a break if nothing more comes; null when it is not valid at the event, or valid without an end. */
  readonly validUntil: Day | null;
  /** The day of the event at its place, by which all of it is judged. */
  readonly localDay: Day;
  /** Lapses of confirmation that a late one had ended by then, first and last day of each, in order. */
  readonly lapses: readonly { readonly from: Day; readonly to: Day }[];
}

/**
 * Whether the qualification covered the event, by what the caller passes: to ask what was known at some time, pass only that.
 * 1. The local day of the event decides. First and last days count whole: an expiry, the last day of confirmed months or of
 *    a vision test, or the end of an authorisation on that very day is still valid; a withdrawal on that day is not.
 * 2. A confirmation missed and made late leaves the days between invalid, whoever made it; from its own day on the
 *    qualification is valid again, or not, as `lateConfirmation` says. Our own choice: rules differ, some ask for a new test.
 * 3. Method, level and every variable that the scope limits must be stated by the event and lie in the scope.
 * Records only: whether a person may weld or test is for the welding coordinator or the level 3 to decide.
 * Throws RangeError or SyntaxError as `checkQualification`, `localDay` and `scopeFindings` do.
 */
export function qualificationAt(qualification: Qualification, event: QualifiedEvent): QualificationAnswer {
  checkQualification(qualification);
  const onDay = localDay(event);
  const day = dayNumber(onDay);
  const coverage = coverageOf(qualification);
  const outOfScope = findingsOf(qualification, event).map((scope) => ({ state: 'out-of-scope', words: scope.words, scope }) as const);
  const reasons = [...outOfScope, ...timeReasons(qualification, coverage, day)].sort((a, b) => gravity(b.state) - gravity(a.state));
  const [gravest] = reasons;
  const lapses = gapsBefore(coverage.confirmed, day).map(({ from, to }) => ({ from: dayText(from), to: dayText(to) }));
  const where = `on ${onDay}, local day at ${offsetText(event.offsetMinutes)}`;
  const had = lapses.map(({ from, to }) => `it had lapsed, unconfirmed, from ${from} to ${to}`);
  const why = gravest === undefined ? validWords(qualification, coverage, day) : reasons.map(({ words }) => words);
  return {
    state: gravest === undefined ? 'valid' : gravest.state,
    reasons,
    because: `${gravest === undefined ? 'valid' : 'not valid'} ${where}: ${[...why, ...had].join('; ')}`,
    validUntil: gravest === undefined ? lastValidDay(coverage, day) : null,
    localDay: onDay,
    lapses,
  };
}

function findingsOf({ methods, level, scope }: Qualification, event: QualifiedEvent): readonly ScopeFinding[] {
  if (event.level !== null) checkFromOne(event.level, 'level');
  const findings: ScopeFinding[] = [];
  const allowed = methods.join(', ');
  if (event.method === null) {
    findings.push({ name: 'method', finding: 'not-stated', words: `method is not stated, and the scope limits it to ${allowed}` });
  } else if (!methods.includes(event.method)) {
    findings.push({ name: 'method', finding: 'outside', words: `method ${event.method} is outside the scope: ${allowed}` });
  }
  if (event.level !== null && event.level > (level ?? 0)) {
    const has = level === null ? 'none' : `level ${level}`;
    findings.push({ name: 'level', finding: 'outside', words: `level ${event.level} is asked for, and the qualification states ${has}` });
  }
  return [...findings, ...scopeFindings(scope, event.variables)];
}

/** What it rests on, and how long each holds. */
function validWords(qualification: Qualification, coverage: Coverage, day: number): readonly string[] {
  const { startsOn, expiresOn, confirmation, authorisations, vision } = qualification;
  const through = (spans: readonly DaySpan[]): string => {
    const last = lastDay(endFrom(spans, day));
    return last === null ? 'without an end' : `through ${last}`;
  };
  return [
    `runs from ${startsOn} ${expiresOn === null ? 'without a printed end' : `through ${expiresOn}`}`,
    ...(confirmation === null ? [] : [`confirmed ${through(coverage.confirmed)}`]),
    ...(authorisations === null ? [] : [`authorised by the employer ${through(coverage.authorised)}`]),
    ...(vision === null ? [] : [`vision tested, good ${through(coverage.seeing)}`]),
  ];
}

function lastValidDay({ running, notWithdrawn, confirmed, authorised, seeing }: Coverage, day: number): Day | null {
  const ends = [running, notWithdrawn, confirmed, authorised, seeing].map((spans) => endFrom(spans, day));
  return lastDay(Math.min(...ends));
}

/** The last day of the span that holds the day, which one does. */
function endFrom(spans: readonly DaySpan[], day: number): number {
  return spanAt(spans, day)?.to ?? day;
}

function lastDay(number: number): Day | null {
  return number === Infinity ? null : dayText(number);
}
