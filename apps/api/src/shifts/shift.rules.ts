import { microseconds } from '#libs/persistence';
import type { FieldProblem } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';
import type { Shift } from './shift.entity.js';

/** Common practice, no published source: nobody is on shift for longer than a day. */
const LONGEST_US = 24 * 3_600_000_000;

type Times = Pick<Shift, 'observedAt' | 'until'>;
type Crewed = Times & Pick<Shift, 'crew'>;

/** What does not go together in a shift: an end that is not after its beginning, a person who is named twice. */
export function shiftFaults({ observedAt, until, crew }: Crewed): FieldProblem[] {
  const ids = crew.map(({ personId }) => personId);
  return [
    ...(until !== null && microseconds(until) <= microseconds(observedAt) ? [{ field: 'until', value: until, limit: `after the beginning, ${observedAt}` }] : []),
    ...ids.flatMap((id, index) => (ids.indexOf(id) === index ? [] : [{ field: `crew[${index}].personId`, value: id, limit: 'each person once' }])),
  ];
}

/** True when two shifts have a moment in common; a shift that runs has no end yet. */
export function overlap(one: Times, other: Times): boolean {
  const isBefore = (first: Times, second: Times): boolean => first.until !== null && microseconds(first.until) <= microseconds(second.observedAt);
  return !isBefore(one, other) && !isBefore(other, one);
}

/** True at an instant of the shift: from its beginning up to its end, which is not part of it. */
export function isWithin(at: string, { observedAt, until }: Times): boolean {
  const us = microseconds(at);
  return us >= microseconds(observedAt) && (until === null || us < microseconds(until));
}

/** A shift of more than a day, and a person who is on another shift at the same time, wherever that is. */
export function shiftFindings(shift: Crewed, others: readonly (Crewed & Pick<Shift, 'name'>)[]): Finding[] {
  const { observedAt, until, crew } = shift;
  const isLong = until !== null && microseconds(until) - microseconds(observedAt) > LONGEST_US;
  return [
    ...(isLong ? [{ tier: 'implausible', field: 'until', value: until, limit: 'usually at most 24 h after the beginning' } as const] : []),
    ...crew.flatMap(({ personId }, index) =>
      others.filter((other) => overlap(shift, other) && isOn(personId, other)).slice(0, 1).map((other): Finding =>
        ({ tier: 'implausible', field: `crew[${index}].personId`, value: personId, limit: `a person in one shift at a time: also in ${inWords(other)}` }))),
  ];
}

/** True when a person is of the crew. */
export const isOn = (personId: string, { crew }: Pick<Shift, 'crew'>): boolean => crew.some((member) => member.personId === personId);

/** A shift as people say it, with its times. */
export const inWords = ({ name, observedAt, until }: Pick<Shift, 'name'> & Times): string =>
  `${name}, ${observedAt} ${until === null ? 'and still running' : `to ${until}`}`;
