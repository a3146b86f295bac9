import { type Day, dayNumber, type Moment, monthsLater } from './day.js';
import { checkScope, type EventVariable, type ScopeItem } from './scope.js';

/**
 * Confirmations that the person worked within the scope, demanded every so many months from the start or the last one:
 * six for welders (ISO 9606-1, clause 9) and for operators and setters (ISO 14732:2013, 5.2; six months from memory). The
 * continuous interruption of more than a year of ISO 9712 can be kept in the same form, with 12 months and `ends`; the two
 * years in total cannot.
 */
export interface ConfirmationDemand {
  /** 1 or more; the day so many months later is still confirmed. */
  readonly everyMonths: number;
  /** In any order; those before the start say nothing. */
  readonly confirmedOn: readonly Day[];
  /** What one after the confirmed days does: valid again from its day on, or never again (a new test is asked). Our own choice to offer both. */
  readonly lateConfirmation: 'revives' | 'ends';
}

/** Near vision, tested yearly for non-destructive testing (ISO 9712, from memory). A test holds from its own day, before the start too. */
export interface VisionDemand {
  /** 1 or more; the day so many months after a test is still covered. */
  readonly everyMonths: number;
  readonly testedOn: readonly Day[];
}

/** Days from the first to the last, both included; null: open. */
export interface Period {
  readonly from: Day;
  readonly until: Day | null;
}

/** A certificate of a person, as known to the caller. All days are local days. */
export interface Qualification {
  /** Names it among those of the person. */
  readonly id: string;
  /** Methods or processes that it is for, letter for letter: `UT`, `135`. */
  readonly methods: readonly string[];
  /** Whole number, 1 or more, a higher one doing for a lower (levels 1 to 3 of ISO 9712); null where the kind has none. */
  readonly level: number | null;
  readonly scope: readonly ScopeItem[];
  /** First day: for operators and setters that on which the test piece was welded (ISO 14732:2013). */
  readonly startsOn: Day;
  /** Last day, valid to its end; null when none is printed. */
  readonly expiresOn: Day | null;
  /** Null: none demanded. */
  readonly confirmation: ConfirmationDemand | null;
  /** The employer's authorisation (operating authorization, ISO 9712:2005, clause 3); null: none demanded; empty: demanded and never given. */
  readonly authorisations: readonly Period[] | null;
  /** Null: none demanded. */
  readonly vision: VisionDemand | null;
  /** Not valid from that whole day on. */
  readonly withdrawn: { readonly on: Day; readonly reason: string } | null;
}

/** What was done: when, by what method, at what level at least, with what variables. Two methods are two events. */
export interface QualifiedEvent extends Moment {
  /** Null: not stated, and so not shown to be in scope. */
  readonly method: string | null;
  /** The least level that it asks for; null: none. */
  readonly level: number | null;
  readonly variables: readonly EventVariable[];
}

/**
 * Throws RangeError, or SyntaxError on a range's end, when the qualification contradicts itself: no method, a level or a
 * number of months that is no whole number from 1, a text that is no day, a period that ends before it begins, a scope as
 * `checkScope` says.
 */
export function checkQualification(qualification: Qualification): void {
  const { methods, level, scope, startsOn, expiresOn, confirmation, authorisations, vision, withdrawn } = qualification;
  if (methods.length === 0) throw new RangeError('the qualification names no method');
  if (level !== null) checkFromOne(level, 'level');
  checkScope(scope);
  checkPeriod({ from: startsOn, until: expiresOn });
  authorisations?.forEach(checkPeriod);
  if (confirmation !== null) checkDemand(confirmation.everyMonths, confirmation.confirmedOn);
  if (vision !== null) checkDemand(vision.everyMonths, vision.testedOn);
  if (withdrawn !== null) dayNumber(withdrawn.on);
}

function checkDemand(everyMonths: number, days: readonly Day[]): void {
  checkFromOne(everyMonths, 'everyMonths');
  for (const day of days) monthsLater(day, everyMonths);
}

/** Throws RangeError, naming it, unless the number is whole and 1 or more. */
export function checkFromOne(number: number, name: string): void {
  if (!Number.isSafeInteger(number) || number < 1) throw new RangeError(`${name} is not a whole number from 1: ${number}`);
}

function checkPeriod({ from, until }: Period): void {
  if (dayNumber(from) > (until === null ? Infinity : dayNumber(until))) throw new RangeError(`the period is reversed: ${from} to ${String(until)}`);
}
