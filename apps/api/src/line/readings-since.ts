/**
 * What a string's model lacks of the readings that were entered since it was made. Every write that a model shows raises the
 * string's revision by one in its transaction, under a lock that it holds alone: when as many transactions are found that
 * entered readings as the revision rose by, nothing else moved.
 */
import { microseconds } from '#libs/persistence';
import type { CounterReading } from './counter-reading.entity.js';

/** A string's part of a revision, as `revision_of` writes it: `id number, id number`; 0 before the first change. */
export function ownRevision(revision: string, stringId: string): number {
  const own = revision.split(', ').find((part) => part.startsWith(`${stringId} `));
  return own === undefined ? 0 : Number(own.slice(stringId.length + 1));
}

/** Since when, and with which revision, a model knows the readings of a string. */
export interface KnownReadings {
  readonly revision: string;
  /** When the last one of all that it knows became known; null without one. */
  readonly knownFrom: string | null;
  readonly last: CounterReading | null;
}

/**
 * The readings of its master counter to append to a model, or null where it has to be made anew: something else moved, a
 * reading was amended, or one comes before the last.
 * @param since the versions of readings, of every counter, that became known after those of the model, in the order of time
 */
export function readingsToAppend(stringId: string, counter: string, model: KnownReadings, now: { readonly revision: string; readonly since: readonly CounterReading[] }): CounterReading[] | null {
  const moved = ownRevision(now.revision, stringId) - ownRevision(model.revision, stringId);
  const written = new Set(now.since.map(({ knownFrom }) => knownFrom));
  if (moved !== written.size || now.since.some(({ version, state }) => version > 1 || state !== 'active')) return null;
  const [first, ...others] = now.since.filter((row) => row.counter === counter);
  if (first === undefined) return [];
  const { last } = model;
  return last === null || microseconds(first.observedAt) > microseconds(last.observedAt) ? [first, ...others] : null;
}
