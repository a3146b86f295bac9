/** A calendar day as printed on papers, `2026-03-31`, of the Gregorian calendar, years 1000 to 9999. */
export type Day = string;

/** When something happened: the instant, and what the clocks of the place showed. */
export interface Moment {
  /** UTC as ISO 8601 text with up to six decimals of a second, `2026-03-31T22:15:00.123456Z`, years 1000 to 9999; no leap seconds. */
  readonly instant: string;
  /** Local time less UTC in whole minutes, -840 to 840: the offset that the record keeps. */
  readonly offsetMinutes: number;
}

const DAY = /^([1-9]\d{3})-(\d{2})-(\d{2})$/;
const INSTANT = /^(\d{4}-\d{2}-\d{2})T([01]\d|2[0-3]):([0-5]\d):([0-5]\d)(?:\.(\d{1,6}))?Z$/;
const DAY_MS = 86_400_000;
const DAY_MINUTES = 1440;
const OFFSET_MAX_MINUTES = 14 * 60;

/** Days since 1970-01-01. Throws RangeError when the text is no day of the calendar, such as `2026-02-30`. */
export function dayNumber(day: Day): number {
  const [, year, month, date] = DAY.exec(day) ?? [];
  const at = new Date(Date.UTC(Number(year), Number(month) - 1, Number(date)));
  // 30 February comes out as 2 March.
  if (at.getUTCMonth() !== Number(month) - 1 || at.getUTCDate() !== Number(date)) throw new RangeError(`not a day: ${JSON.stringify(day)}`);
  return at.getTime() / DAY_MS;
}

/** The day that is so many days after 1970-01-01. Throws RangeError outside the years 1000 to 9999. */
export function dayText(number: number): Day {
  const date = new Date(number * DAY_MS);
  const text = Number.isNaN(date.getTime()) ? '' : date.toISOString().slice(0, 10);
  if (!DAY.test(text)) throw new RangeError(`not a day of the years 1000 to 9999: day ${number} from 1970-01-01`);
  return text;
}

/**
 * The day `months` months later: the same day of its month, or the last one where that month is shorter (31 August and
 * six months: 28 or 29 February). Our own choice: the standards say "every six months" and not how to count them.
 * Throws RangeError on what is no day, or unless `months` is a whole number of 0 or more.
 */
export function monthsLater(day: Day, months: number): Day {
  if (!Number.isSafeInteger(months) || months < 0) throw new RangeError(`not a whole number of months from 0: ${months}`);
  const date = new Date(dayNumber(day) * DAY_MS);
  const [year, month] = [date.getUTCFullYear(), date.getUTCMonth() + months];
  const lastDate = new Date(Date.UTC(year, month + 1, 0)).getUTCDate();
  return dayText(Date.UTC(year, month, Math.min(date.getUTCDate(), lastDate)) / DAY_MS);
}

/**
 * The calendar day at the place of the event, by which what is printed in days is judged: `2026-03-31T22:15:00Z` at
 * UTC+02:00 is on `2026-04-01`. Throws RangeError on a text that is no instant in UTC, or an offset beyond ± 14 h.
 */
export function localDay({ instant, offsetMinutes }: Moment): Day {
  const { day, number, minutes } = partsOf(instant);
  checkOffset(offsetMinutes);
  const later = Math.floor((minutes + offsetMinutes) / DAY_MINUTES);
  return later === 0 ? day : dayText(number + later);
}

/** The instant with six decimals: of two such texts the earlier sorts first. Throws RangeError on a text that is none in UTC. */
export function normalInstant(instant: string): string {
  return `${instant.slice(0, 19)}.${partsOf(instant).fraction.padEnd(6, '0')}Z`;
}

/** `UTC+02:00`, `UTC-03:30`. Throws RangeError on an offset beyond ± 14 h. */
export function offsetText(offsetMinutes: number): string {
  checkOffset(offsetMinutes);
  const size = Math.abs(offsetMinutes);
  const [hours, minutes] = [Math.floor(size / 60), size % 60].map((part) => String(part).padStart(2, '0'));
  return `UTC${offsetMinutes < 0 ? '-' : '+'}${hours}:${minutes}`;
}

function partsOf(instant: string): { day: Day; number: number; minutes: number; fraction: string } {
  const match = INSTANT.exec(instant);
  if (match === null) throw new RangeError(`not an instant in UTC: ${JSON.stringify(instant)}`);
  const [, day = '', hours, minutes, , fraction = ''] = match;
  return { day, number: dayNumber(day), minutes: Number(hours) * 60 + Number(minutes), fraction };
}

function checkOffset(offsetMinutes: number): void {
  if (Number.isSafeInteger(offsetMinutes) && Math.abs(offsetMinutes) <= OFFSET_MAX_MINUTES) return;
  throw new RangeError(`not an offset from UTC in whole minutes, -840 to 840: ${offsetMinutes}`);
}
