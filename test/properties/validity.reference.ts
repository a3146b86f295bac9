import type { Qualification, QualifiedEvent } from '#libs/validity';

/**
 * Validity worked out the plain way: a calendar counted out day by day, a qualification lived through from its first day to
 * the day asked, a calibration looked at from every instant. Nothing of the library's arithmetic is used.
 */

const MONTH_LENGTHS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

const two = (number: number): string => String(number).padStart(2, '0');

function monthLength(year: number, month: number): number {
  const isLeap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  return month === 2 && isLeap ? 29 : MONTH_LENGTHS[month - 1]!;
}

function* daysCounted(fromYear: number, toYear: number): Generator<string> {
  for (let year = fromYear; year <= toYear; year++) {
    for (let month = 1; month <= 12; month++) {
      for (let date = 1; date <= monthLength(year, month); date++) yield `${year}-${two(month)}-${two(date)}`;
    }
  }
}

/** Every day of the years 2020 to 2040, in order. */
export const CALENDAR: readonly string[] = [...daysCounted(2020, 2040)];
const PLACES = new Map(CALENDAR.map((day, place) => [day, place]));

/** The day so many days on, or back. */
export function dayAfter(day: string, days = 1): string {
  return CALENDAR[PLACES.get(day)! + days]!;
}

/** One month after another: the month is counted on, then the date is cut to its length. */
export function sameDateMonthsOn(day: string, months: number): string {
  let [year, month] = [Number(day.slice(0, 4)), Number(day.slice(5, 7))];
  for (let count = 0; count < months; count++) [year, month] = month === 12 ? [year + 1, 1] : [year, month + 1];
  return `${year}-${two(month)}-${two(Math.min(Number(day.slice(8)), monthLength(year, month)))}`;
}

/** The local clock is put forward or back, and goes past midnight once at most. */
export function dayOnTheWall({ instant, offsetMinutes }: { instant: string; offsetMinutes: number }): string {
  const minutes = Number(instant.slice(11, 13)) * 60 + Number(instant.slice(14, 16)) + offsetMinutes;
  if (minutes < 0) return dayAfter(instant.slice(0, 10), -1);
  return dayAfter(instant.slice(0, 10), minutes >= 24 * 60 ? 1 : 0);
}

/** The instant of a wall clock's time of day. */
export function instantOnTheWall(day: string, minuteOfDay: number, secondsText: string, offsetMinutes: number): string {
  const utc = minuteOfDay - offsetMinutes;
  const shifted = dayAfter(day, utc < 0 ? -1 : utc >= 24 * 60 ? 1 : 0);
  const minute = (utc + 24 * 60) % (24 * 60);
  return `${shifted}T${two(Math.floor(minute / 60))}:${two(minute % 60)}:${secondsText}Z`;
}

interface Life {
  readonly confirmedDays: ReadonlySet<string>;
  /** Those that were ended by the last day lived. */
  readonly lapses: readonly { from: string; to: string }[];
}

/** Lives through the days from the start to the last one, as far as there are confirmations to make. */
export function lifeOf({ startsOn, confirmation }: Qualification, last: string): Life {
  const confirmedDays = new Set<string>();
  const lapses: { from: string; to: string }[] = [];
  if (confirmation === null || last < startsOn) return { confirmedDays, lapses };
  let through = sameDateMonthsOn(startsOn, confirmation.everyMonths);
  let lapsedFrom: string | null = null;
  for (let today = startsOn; today <= last; today = dayAfter(today)) {
    if (confirmation.confirmedOn.includes(today) && (today <= through || confirmation.lateConfirmation === 'revives')) {
      through = sameDateMonthsOn(today, confirmation.everyMonths);
      if (lapsedFrom !== null) lapses.push({ from: lapsedFrom, to: dayAfter(today, -1) });
      lapsedFrom = null;
    } else if (today > through) {
      lapsedFrom ??= today;
    }
    if (lapsedFrom === null) confirmedDays.add(today);
  }
  return { confirmedDays, lapses };
}

/** Which reasons of time apply on a day of the life. */
export function timeStatesOn(given: Qualification, { confirmedDays }: Life, day: string): Set<string> {
  const states = new Set<string>();
  if (day < given.startsOn) states.add('not-yet');
  if (given.expiresOn !== null && day > given.expiresOn) states.add('expired');
  if (given.withdrawn !== null && day >= given.withdrawn.on) states.add('withdrawn');
  if (given.confirmation !== null && day >= given.startsOn && !confirmedDays.has(day)) states.add('unconfirmed');
  const isAuthorised = given.authorisations?.some(({ from, until }) => from <= day && (until === null || day <= until)) ?? true;
  if (!isAuthorised) states.add('not-authorised');
  const { vision } = given;
  const sees = vision === null || vision.testedOn.some((tested) => tested <= day && day <= sameDateMonthsOn(tested, vision.everyMonths));
  if (!sees) states.add('vision-lapsed');
  return states;
}

/** Later than anything that is drawn lasts. */
const AFTER_ALL = '2032-01-01';

/** The last of the days from a valid one on before one that is not valid; null when none of those comes any more. */
export function lastGoodDay(given: Qualification, day: string): string | null {
  const life = lifeOf(given, AFTER_ALL);
  for (let today = day; today < AFTER_ALL; today = dayAfter(today)) {
    if (timeStatesOn(given, life, dayAfter(today)).size > 0) return today;
  }
  return null;
}

/** Names out of scope. The quantities drawn have two decimals and are all in mm. */
export function namesOutOfScope({ methods, level, scope }: Qualification, event: QualifiedEvent): Set<string> {
  const names = new Set<string>();
  if (event.method === null || !methods.includes(event.method)) names.add('method');
  if (event.level !== null && (level === null || level < event.level)) names.add('level');
  for (const item of scope) {
    const variable = event.variables.find(({ name }) => name === item.name);
    const isInside = variable !== undefined && (item.kind === 'list'
      ? variable.unit === null && item.values.includes(variable.value)
      : variable.unit === 'mm' && (item.min === null || hundredths(variable.value) >= hundredths(item.min))
        && (item.max === null || hundredths(variable.value) <= hundredths(item.max)));
    if (!isInside) names.add(item.name);
  }
  return names;
}

export function hundredths(text: string): number {
  return Math.round(Number(text) * 100);
}

/** A calibration in whole hours since the beginning, with deviations in hundredths of a millimetre. */
export interface PlainCalibration {
  readonly hour: number;
  /** Null: not taken; not adjusted. */
  readonly found: readonly number[] | null;
  readonly left: readonly number[] | null;
  /** Half the width of what is accepted, in hundredths. */
  readonly accepted: number;
  readonly dueOn: string | null;
}

export const wasFoundGood = ({ found, accepted }: PlainCalibration): boolean => found !== null && found.every((one) => Math.abs(one) <= accepted);
export const wasFoundBad = (one: PlainCalibration): boolean => one.found !== null && !wasFoundGood(one);
export const wasLeftGood = ({ left, found, accepted }: PlainCalibration): boolean => (left ?? found!).every((one) => Math.abs(one) <= accepted);

/** In doubt: found out later, and not once found or left in tolerance in between. */
export function isInDoubt(calibrations: readonly PlainCalibration[], hour: number): boolean {
  return calibrations.some((finding) => wasFoundBad(finding) && finding.hour > hour
    && !calibrations.some((between) => between.hour > hour && between.hour < finding.hour && (wasFoundGood(between) || wasLeftGood(between))));
}

/** Which reasons apply to a use in that hour, on that local day. */
export function instrumentStatesOn(calibrations: readonly PlainCalibration[], hour: number, day: string): Set<string> {
  const states = new Set<string>();
  if (isInDoubt(calibrations, hour)) states.add('found-out');
  const earlier = calibrations.filter((one) => one.hour <= hour);
  const last = earlier.find((one) => earlier.every((other) => other.hour <= one.hour));
  if (last === undefined) return states.add('not-calibrated');
  if (!wasLeftGood(last)) states.add('left-out');
  if (last.dueOn !== null && day > last.dueOn) states.add('overdue');
  return states;
}
