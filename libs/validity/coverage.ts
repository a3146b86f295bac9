import { type DaySpan, joinedSpans } from './day-spans.js';
import { type Day, dayNumber, monthsLater } from './day.js';
import type { ConfirmationDemand, Period, Qualification } from './qualification-record.js';

/** For each thing that a qualification rests on, the days on which it is there, as joined spans. */
export interface Coverage {
  readonly running: readonly DaySpan[];
  readonly notWithdrawn: readonly DaySpan[];
  /** From the start on; what lies before is for `running` to refuse. */
  readonly confirmed: readonly DaySpan[];
  readonly authorised: readonly DaySpan[];
  readonly seeing: readonly DaySpan[];
}

const ALWAYS: readonly DaySpan[] = [{ from: -Infinity, to: Infinity }];

export function coverageOf({ startsOn, expiresOn, confirmation, authorisations, vision, withdrawn }: Qualification): Coverage {
  return {
    running: [spanOf({ from: startsOn, until: expiresOn })],
    notWithdrawn: withdrawn === null ? ALWAYS : [{ from: -Infinity, to: dayNumber(withdrawn.on) - 1 }],
    confirmed: confirmation === null ? ALWAYS : confirmedSpans(startsOn, confirmation),
    authorised: authorisations === null ? ALWAYS : joinedSpans(authorisations.map(spanOf)),
    seeing: vision === null ? ALWAYS : joinedSpans(vision.testedOn.map((day) => spanFor(day, vision.everyMonths))),
  };
}

/** Our own choice, where the rules leave it open: each confirmation, and the start, holds for its months and counts anew. */
function confirmedSpans(startsOn: Day, { everyMonths, confirmedOn, lateConfirmation }: ConfirmationDemand): readonly DaySpan[] {
  const spans = [spanFor(startsOn, everyMonths)];
  // Days as texts sort as days do.
  for (const day of confirmedOn.filter((one) => one >= startsOn).toSorted()) {
    const span = spanFor(day, everyMonths);
    // A later day holds as long or longer, so the last span ends last.
    if (lateConfirmation === 'ends' && span.from > (spans.at(-1)?.to ?? Infinity)) break;
    spans.push(span);
  }
  return joinedSpans(spans);
}

function spanFor(day: Day, months: number): DaySpan {
  return { from: dayNumber(day), to: dayNumber(monthsLater(day, months)) };
}

function spanOf({ from, until }: Period): DaySpan {
  return { from: dayNumber(from), to: until === null ? Infinity : dayNumber(until) };
}
