/** A UTC instant as ISO 8601 text with up to six decimals of a second, such as `2026-03-01T07:15:00.123456Z`. */
export type Instant = string;

/** Characters of `2026-03-01T07:15:00.123456Z`. */
const NORMAL_LENGTH = 27;

const INSTANT = /^(\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2})(?:\.(\d{1,6}))?(Z|[+-]\d{2}:\d{2})$/;

/** True for a calendar instant with an offset and at most microseconds. */
export function isInstant(text: string): boolean {
  return INSTANT.test(text) && Number.isFinite(Date.parse(text)) && sameDay(text);
}

/** JavaScript turns 31 February into 3 March; such a text is not an instant. */
function sameDay(text: string): boolean {
  const day = text.slice(0, 10);
  return new Date(`${day}T00:00:00Z`).toISOString().slice(0, 10) === day;
}

/** Microseconds since 1970 UTC. Exact for years 1685 to 2255. Throws RangeError when `text` is no instant. */
export function microseconds(text: Instant): number {
  // The normal spelling, which nearly all are, needs no taking apart.
  if (text.length === NORMAL_LENGTH && text.endsWith('Z') && text[19] === '.') {
    return Date.parse(`${text.slice(0, 19)}Z`) * 1000 + Number(text.slice(20, 26));
  }
  const match = INSTANT.exec(text);
  if (match === null) throw new RangeError(`not an instant: ${text}`);
  const [, seconds, fraction = '', offset] = match;
  return Date.parse(`${seconds}${offset}`) * 1000 + Number(fraction.padEnd(6, '0'));
}

/** The instant of a number of microseconds since 1970 UTC. */
export function instantOf(us: number): Instant {
  const seconds = Math.floor(us / 1e6);
  const fraction = us - seconds * 1e6;
  return `${new Date(seconds * 1000).toISOString().slice(0, 19)}.${String(fraction).padStart(6, '0')}Z`;
}

/** The same instant in UTC with six decimals, the one spelling that is stored, compared and answered. */
export function normalInstant(text: Instant): Instant {
  return instantOf(microseconds(text));
}
