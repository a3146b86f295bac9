import { describe, expect, test } from '@jest/globals';
import type { CounterReading } from './counter-reading.entity.js';
import { ownRevision, readingsToAppend, type KnownReadings } from './readings-since.js';

const STRING = '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b05';
const SHARED = '00000000-0000-0000-0000-000000000000';

const clock = (second: number): string => `2026-03-02T08:00:0${second}.000000Z`;
const reading = (observed: number, known: number, changes: Partial<CounterReading> = {}): CounterReading =>
  ({ id: `r${observed}`, version: 1, state: 'active', counter: 'main', observedAt: clock(observed), knownFrom: clock(known), ...changes }) as CounterReading;

const model = (own: number): KnownReadings => ({ revision: `${SHARED} 7, ${STRING} ${own}`, knownFrom: clock(1), last: reading(1, 1) });
const append = (own: number, since: readonly CounterReading[], shared = 7): string[] | null =>
  readingsToAppend(STRING, 'main', model(4), { revision: `${SHARED} ${shared}, ${STRING} ${own}`, since })?.map(({ id }) => id) ?? null;

test('a revision names the string, or what is shared, or nothing yet', () => {
  expect(['', `${SHARED} 3`, `${STRING} 12`, `${SHARED} 3, ${STRING} 4`].map((revision) => ownRevision(revision, STRING))).toEqual([0, 0, 12, 4]);
});

describe('readings are appended', () => {
  test('where as many transactions entered readings as the revision rose by; a batch is one', () => {
    expect(append(5, [reading(2, 2)])).toEqual(['r2']);
    expect(append(6, [reading(2, 2), reading(3, 3)])).toEqual(['r2', 'r3']);
    expect(append(5, [reading(2, 2), reading(3, 2)])).toEqual(['r2', 'r3']);
    expect(append(4, [], 8)).toEqual([]);
  });

  test('but those of other counters', () => {
    expect(append(6, [reading(2, 2, { counter: 'second' }), reading(3, 3)])).toEqual(['r3']);
  });
});

describe('the model is made anew', () => {
  test('where something else moved, before, between or after them', () => {
    expect([append(5, []), append(6, [reading(2, 2)]), append(4, [reading(2, 2)])]).toEqual([null, null, null]);
  });

  test('where a reading was amended or withdrawn, or is not later than the last', () => {
    expect(append(5, [reading(2, 2, { version: 2 })])).toBeNull();
    expect(append(5, [reading(2, 2, { state: 'void' })])).toBeNull();
    expect([append(5, [reading(1, 2)]), append(5, [reading(0, 2)])]).toEqual([null, null]);
  });
});
