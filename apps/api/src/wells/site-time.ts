import type { Moment } from '#libs/validity';

const DAY_MS = 86_400_000;
const formats = new Map<string, Intl.DateTimeFormat>();

/** The moment of an event at a site: by its time zone's offset from UTC at that instant. `instant` is in UTC, as records have it. */
export const siteMoment = (timeZone: string, instant: string): Moment => ({ instant, offsetMinutes: offsetMinutesAt(timeZone, Date.parse(instant)) });

/** `siteMoment` for many instants of one site: a day of UTC that begins and ends at one offset has it throughout, as no zone changes twice a day. */
export function siteClock(timeZone: string): (instant: string) => Moment {
  const days = new Map<number, number | null>();
  return (instant) => {
    const day = Math.floor(Date.parse(instant) / DAY_MS);
    const known = days.get(day);
    const throughout = known === undefined ? offsetThroughout(timeZone, day) : known;
    if (known === undefined) days.set(day, throughout);
    return throughout === null ? siteMoment(timeZone, instant) : { instant, offsetMinutes: throughout };
  };
}

/** Of a day of UTC, by its number; null when it changes. */
function offsetThroughout(timeZone: string, day: number): number | null {
  const [first, last] = [offsetMinutesAt(timeZone, day * DAY_MS), offsetMinutesAt(timeZone, (day + 1) * DAY_MS)];
  return first === last ? first : null;
}

function offsetMinutesAt(timeZone: string, atMs: number): number {
  const named = formatOf(timeZone).formatToParts(new Date(atMs)).find(({ type }) => type === 'timeZoneName')?.value ?? 'GMT';
  const [, sign, hours, minutes] = /GMT([+-])(\d\d):(\d\d)/.exec(named) ?? [];
  const ahead = Number(hours ?? 0) * 60 + Number(minutes ?? 0);
  return sign === '-' && ahead > 0 ? -ahead : ahead;
}

/** Making a format takes some twenty times as long as using it. */
function formatOf(timeZone: string): Intl.DateTimeFormat {
  const format = formats.get(timeZone) ?? new Intl.DateTimeFormat('en', { timeZone, timeZoneName: 'longOffset' });
  formats.set(timeZone, format);
  return format;
}
