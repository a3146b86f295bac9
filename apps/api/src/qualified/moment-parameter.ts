import { normalInstant } from '#libs/persistence';
import type { Moment } from '#libs/validity';
import type { QueryReader } from '../trace/trace-question.js';

/** No place on earth is further from UTC. */
const FURTHEST_MINUTES = 14 * 60;

/** An instant that a query names with the offset of its place from UTC, by which its local day is known. */
export interface PlacedMoment extends Moment {
  /** As it was given. */
  readonly text: string;
}

/** The parameter `at`, which is needed. What is wrong with it is kept by `read`, and something stands in its place. */
export function momentParameter(read: QueryReader): PlacedMoment {
  const text = read.instant('at');
  if (text === null) {
    if (!read.has('at')) read.wrong('at', null, 'an instant with the offset of its place, such as 2026-03-01T23:30:00+01:00');
    return { instant: '', offsetMinutes: 0, text: '' };
  }
  const offsetMinutes = offsetOf(text);
  if (Math.abs(offsetMinutes) > FURTHEST_MINUTES) read.wrong('at', text, 'an offset from UTC of at most 14 hours');
  return { instant: normalInstant(text), offsetMinutes, text };
}

/** Minutes that the local time of an instant's text is ahead of UTC. */
function offsetOf(instant: string): number {
  const [, sign, hours, minutes] = /([+-])(\d\d):(\d\d)$/.exec(instant) ?? [];
  const ahead = Number(hours ?? 0) * 60 + Number(minutes ?? 0);
  return sign === '-' && ahead > 0 ? -ahead : ahead;
}
