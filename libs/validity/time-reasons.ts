import type { Coverage } from './coverage.js';
import { type DaySpan, neighbours, spanAt } from './day-spans.js';
import { dayNumber, dayText } from './day.js';
import type { Qualification } from './qualification-record.js';
import type { QualificationReason } from './qualification-state.js';

type TimeState = Exclude<QualificationReason['state'], 'out-of-scope'>;

/** Every reason of time, authorisation or vision why the qualification is not valid on the day, whatever the work. */
export function timeReasons(qualification: Qualification, coverage: Coverage, day: number): readonly QualificationReason[] {
  const words: Readonly<Record<TimeState, string | null>> = {
    'vision-lapsed': visionWords(qualification, coverage.seeing, day),
    'not-authorised': spanAt(coverage.authorised, day) === null ? authorisationWords(coverage.authorised, day) : null,
    unconfirmed: confirmationWords(qualification, coverage.confirmed, day),
    expired: qualification.expiresOn !== null && day > dayNumber(qualification.expiresOn) ? `expired: valid through ${qualification.expiresOn}` : null,
    'not-yet': day < dayNumber(qualification.startsOn) ? `starts only on ${qualification.startsOn}` : null,
    withdrawn: withdrawalWords(qualification, coverage.notWithdrawn, day),
  };
  return (Object.keys(words) as TimeState[]).flatMap((state) => {
    const text = words[state];
    return text === null ? [] : { state, words: text, scope: null };
  });
}

function visionWords({ vision }: Qualification, seeing: readonly DaySpan[], day: number): string | null {
  if (vision === null || spanAt(seeing, day) !== null) return null;
  const { before, after } = neighbours(seeing, day);
  const last = before === null ? 'no vision test by then' : `the last vision test by then held through ${dayText(before.to)}`;
  return `${last}, due every ${vision.everyMonths} months${after === null ? '' : `; tested next on ${dayText(after.from)}`}`;
}

function authorisationWords(authorised: readonly DaySpan[], day: number): string {
  const { before, after } = neighbours(authorised, day);
  const next = after === null ? '' : `; the next begins on ${dayText(after.from)}`;
  if (before === null) return `not authorised by the employer by then${next}`;
  return `the employer's authorisation ended on ${dayText(before.to)}${next}`;
}

/** Nothing before the start: there was nothing to confirm. */
function confirmationWords({ startsOn, confirmation }: Qualification, confirmed: readonly DaySpan[], day: number): string | null {
  if (confirmation === null || day < dayNumber(startsOn) || spanAt(confirmed, day) !== null) return null;
  const { before, after } = neighbours(confirmed, day);
  const through = before === null ? '' : dayText(before.to);
  const late = confirmation.confirmedOn.filter((one) => one > through).toSorted().at(0);
  const lapsed = `confirmed through ${through}, due every ${confirmation.everyMonths} months`;
  if (after !== null) return `${lapsed}; confirmed again only on ${dayText(after.from)}`;
  return late === undefined ? lapsed : `${lapsed}; the late confirmation on ${late} does not revive it`;
}

function withdrawalWords({ withdrawn }: Qualification, notWithdrawn: readonly DaySpan[], day: number): string | null {
  return withdrawn === null || spanAt(notWithdrawn, day) !== null ? null : `withdrawn on ${withdrawn.on}: ${withdrawn.reason}`;
}
