import type { Moment } from '#libs/validity';

/** The moment of an event at a site: by its time zone's offset from UTC at that instant. `instant` is in UTC, as records have it. */
export function siteMoment(timeZone: string, instant: string): Moment {
  const format = new Intl.DateTimeFormat('en', { timeZone, timeZoneName: 'longOffset' });
  const named = format.formatToParts(new Date(instant)).find(({ type }) => type === 'timeZoneName')?.value ?? 'GMT';
  const [, sign, hours, minutes] = /GMT([+-])(\d\d):(\d\d)/.exec(named) ?? [];
  const ahead = Number(hours ?? 0) * 60 + Number(minutes ?? 0);
  return { instant, offsetMinutes: sign === '-' && ahead > 0 ? -ahead : ahead };
}
