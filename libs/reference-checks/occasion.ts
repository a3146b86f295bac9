import { type InspectionRun, piecesInOrder } from './inspection-run.js';
import { checksInOrder, type ReferenceCheck } from './reference-check.js';
import { textOrder } from './text-order.js';

/** When a check is to be made, besides the start and the end of every run and every change of operator or set-up. */
export interface OccasionRule {
  /** The longest time between checks while a run goes on, µs; also the longest that a check before a run's start counts for it. */
  readonly everyUs: number;
  /** How long after a change or an end the check may come, µs. */
  readonly graceUs: number;
  /** Where the rule comes from, for the reader. */
  readonly source: string;
}

const HOUR_US = 3_600_000_000;

/** What applies unless the project says otherwise. */
export const FOUR_HOURLY: OccasionRule = {
  everyUs: 4 * HOUR_US, graceUs: 0,
  source: 'ISO 10893 practice: start, end, change of operator, at least every 4 h (from memory; check the part and edition in force); change of set-up: common practice, no published source',
};

export interface Change {
  readonly id: string;
  readonly kind: 'operator' | 'set-up';
  /** Microseconds since 1970 UTC. */
  readonly atUs: number;
}

export type Occasion = 'start' | 'interval' | 'operator-change' | 'set-up-change' | 'end';

/** An occasion at which no check was made in time. */
export interface UnmetOccasion<C> {
  readonly occasion: Occasion;
  /** The run that asked for it. */
  readonly run: string;
  /** The change that asked for it; null for the other occasions. */
  readonly change: string | null;
  /** The last instant at which it would have been in time, µs. */
  readonly dueUs: number;
  readonly state: 'late' | 'missing';
  /** The check that came late; null: none came. */
  readonly check: C | null;
}

interface Span {
  readonly run: string;
  readonly fromUs: number;
  /** Up to when it is known to have gone on. */
  readonly toUs: number;
  readonly ended: boolean;
}

interface Known<C> {
  readonly spans: readonly Span[];
  /** Those that count, passed or failed. */
  readonly checks: readonly C[];
  readonly rule: OccasionRule;
  readonly asOfUs: number;
}

/**
 * Occasions up to `asOfUs` at which no check was made in time, in order of when it was due; later records play no part. A check that failed was made all the
 * same; a void one was not. Exactly at the last instant is in time. The order of the lists plays no part.
 * Throws RangeError on instants and durations that are no whole numbers, or a negative duration.
 */
export function unmetOccasions<C extends ReferenceCheck>(
  runs: readonly InspectionRun[], checks: readonly C[], changes: readonly Change[], rule: OccasionRule, asOfUs: number,
): readonly UnmetOccasion<C>[] {
  checkNumbers(rule, changes, asOfUs);
  const known = { spans: spansOf(runs, asOfUs), checks: checksInOrder(checks).filter(({ atUs }) => atUs <= asOfUs), rule, asOfUs };
  const found = [
    ...known.spans.flatMap((span, index) => [...startOf(known, span, known.spans[index - 1]), ...intervalsOf(known, span, known.spans[index - 1]), ...endOf(known, span)]),
    ...changes.filter(({ atUs }) => atUs <= asOfUs).flatMap((change) => changeOf(known, change)),
  ];
  return found.sort((a, b) => a.dueUs - b.dueUs || textOrder(a.occasion, b.occasion) || textOrder(a.run, b.run) || textOrder(a.change ?? '', b.change ?? ''));
}

function checkNumbers(rule: OccasionRule, changes: readonly Change[], asOfUs: number): void {
  for (const [name, value] of [['everyUs', rule.everyUs], ['graceUs', rule.graceUs]] as const) {
    if (!Number.isSafeInteger(value) || value < 0) throw new RangeError(`${name} is not a whole number from 0: ${value}`);
  }
  const instants = [['asOfUs', asOfUs] as const, ...changes.map(({ id, atUs }) => [`change ${id}: atUs`, atUs] as const)];
  for (const [name, value] of instants) if (!Number.isSafeInteger(value)) throw new RangeError(`${name} is not a whole number: ${value}`);
}

/** What was going on up to then; a run that ends later had not ended. */
function spansOf(runs: readonly InspectionRun[], asOfUs: number): readonly Span[] {
  const spans = runs.flatMap((run) => {
    const pieces = piecesInOrder(run);
    const fromUs = pieces[0]?.fromUs;
    if (fromUs === undefined || fromUs > asOfUs) return [];
    const toUs = pieces.reduce((latest, piece) => Math.max(latest, piece.toUs), fromUs);
    const ended = run.ended && toUs <= asOfUs;
    return [{ run: run.id, fromUs, toUs: ended ? toUs : asOfUs, ended }];
  });
  return spans.sort((a, b) => a.fromUs - b.fromUs || textOrder(a.run, b.run));
}

/** The last check that can stand for the start of a run: since the end of the run before it, and not too long ago. */
function openingOf<C extends ReferenceCheck>({ checks, rule }: Known<C>, { fromUs }: Span, previous: Span | undefined): C | undefined {
  const sinceUs = Math.max(fromUs - rule.everyUs, Math.min(previous?.toUs ?? Number.NEGATIVE_INFINITY, fromUs));
  return checks.findLast(({ atUs }) => sinceUs <= atUs && atUs <= fromUs);
}

function startOf<C extends ReferenceCheck>(known: Known<C>, span: Span, previous: Span | undefined): UnmetOccasion<C>[] {
  if (openingOf(known, span, previous) !== undefined) return [];
  return unmet(known, { occasion: 'start', run: span.run, change: null, dueUs: span.fromUs }, span.toUs);
}

/** One for each stretch between checks that was too long while the run went on. */
function intervalsOf<C extends ReferenceCheck>(known: Known<C>, span: Span, previous: Span | undefined): UnmetOccasion<C>[] {
  const openingUs = openingOf(known, span, previous)?.atUs ?? span.fromUs;
  const lastUs = [openingUs, ...known.checks.map(({ atUs }) => atUs).filter((atUs) => openingUs < atUs && atUs < span.toUs)];
  return lastUs.flatMap((atUs, index) => {
    const dueUs = atUs + known.rule.everyUs;
    const isMet = (lastUs[index + 1] ?? span.toUs) <= dueUs;
    return isMet ? [] : unmet(known, { occasion: 'interval', run: span.run, change: null, dueUs }, Number.POSITIVE_INFINITY);
  });
}

function endOf<C extends ReferenceCheck>(known: Known<C>, { run, toUs, ended }: Span): UnmetOccasion<C>[] {
  const dueUs = toUs + known.rule.graceUs;
  if (!ended || isMade(known, toUs, dueUs)) return [];
  return unmet(known, { occasion: 'end', run, change: null, dueUs }, Number.POSITIVE_INFINITY);
}

/** A change while a run goes on asks for a check then; one between runs, for one before the next run goes far; one after all runs for none. */
function changeOf<C extends ReferenceCheck>(known: Known<C>, { id, kind, atUs }: Change): UnmetOccasion<C>[] {
  const span = known.spans.find(({ fromUs, toUs, ended }) => fromUs >= atUs || (ended ? atUs < toUs : true));
  if (span === undefined) return [];
  const dueUs = Math.max(atUs + known.rule.graceUs, span.fromUs);
  if (isMade(known, atUs, dueUs)) return [];
  return unmet(known, { occasion: `${kind}-change`, run: span.run, change: id, dueUs }, Number.POSITIVE_INFINITY);
}

const isMade = <C extends ReferenceCheck>({ checks }: Known<C>, fromUs: number, toUs: number): boolean => checks.some(({ atUs }) => fromUs <= atUs && atUs <= toUs);

/** Late by the first check after it was due, up to `untilUs`; else missing, once it can no longer come in time. */
function unmet<C extends ReferenceCheck>({ checks, asOfUs }: Known<C>, asked: Omit<UnmetOccasion<C>, 'state' | 'check'>, untilUs: number): UnmetOccasion<C>[] {
  const check = checks.find(({ atUs }) => asked.dueUs < atUs && atUs <= untilUs);
  if (check !== undefined) return [{ ...asked, state: 'late', check }];
  return asOfUs > asked.dueUs ? [{ ...asked, state: 'missing', check: null }] : [];
}
