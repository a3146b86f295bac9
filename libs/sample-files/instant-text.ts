const INSTANT = /^(\d{4})-(\d\d)-(\d\d)T(\d\d):(\d\d)(?::(\d\d)(?:\.(\d{1,6})0*)?)?(?:Z|([+-])(\d\d):?(\d\d))$/;

/**
 * Microseconds since 1970 UTC of an ISO 8601 instant of the calendar, with Z or an offset, to the microsecond; null when the
 * text is none. Leap seconds have no number of their own and are none either.
 */
export function instantMicroseconds(text: string): number | null {
  const match = INSTANT.exec(text);
  if (match === null) return null;
  const [year = 0, month = 0, day = 0, hour = 0, minute = 0, second = 0] = match.slice(1, 7).map((part: string | undefined) => Number(part ?? 0));
  const ms = Date.UTC(2000, month - 1, day, hour, minute, second);
  const date = new Date(ms);
  // Years before 100 mean others to Date.UTC.
  date.setUTCFullYear(year, month - 1, day);
  const isReal = date.getUTCMonth() === month - 1 && date.getUTCDate() === day && hour < 24 && minute < 60 && second < 60 && year > 0;
  const [offsetHours, offsetMinutes] = [Number(match[9] ?? 0), Number(match[10] ?? 0)];
  if (!isReal || offsetHours > 23 || offsetMinutes > 59) return null;
  const offsetMs = (offsetHours * 60 + offsetMinutes) * 60_000 * (match[8] === '-' ? -1 : 1);
  return (date.getTime() - offsetMs) * 1000 + Number((match[7] ?? '').padEnd(6, '0'));
}
