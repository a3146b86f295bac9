import { describe, expect, test } from '@jest/globals';
import { contradictory, malformed, merged, Refused, refusedField, together } from './problem.js';

const field = (name: string) => [{ field: name, value: 1, limit: 'another' }];
const nowhere = (name: string): Refused => refusedField('unknown-reference', name, 1, 'an id');
const taken = new Refused(409, 'conflict', 'Taken.', field('number'));
const unlikely = new Refused(422, 'implausible', 'Unlikely.', field('angleDeg'));
const named = (error: unknown): unknown => (error instanceof Refused ? [error.status, error.errors.map((one) => one.field)] : error);

describe('several refusals', () => {
  test.each([
    ['what cannot be, before all else', [taken, nowhere('a'), contradictory(field('b')), malformed(field('c')), malformed(field('d'))], [400, ['c', 'd']]],
    ['what does not go together, before references', [nowhere('a'), contradictory(field('b')), unlikely], [422, ['b']]],
    ['references, before what is unlikely', [unlikely, nowhere('a'), taken, nowhere('b')], [422, ['a', 'b']]],
    ['what is unlikely, before what is taken', [taken, unlikely], [422, ['angleDeg']]],
  ])('are one that tells %s', (_, refusals, told) => {
    expect(named(merged(refusals))).toEqual(told);
  });

  test('give way to a fault of ours', () => {
    const fault = new Error('no connection');
    expect(merged([malformed(field('a')), fault])).toBe(fault);
  });
});

describe('works done together', () => {
  test('give what each of them gives, in order; plain values stay', async () => {
    expect(await together([Promise.resolve(1), null, Promise.resolve('x')])).toEqual([1, null, 'x']);
  });

  test('are refused in one go, and no rejection is left unheard', async () => {
    const late = new Promise<never>((_, reject) => { setImmediate(() => { reject(nowhere('b')); }); });
    const error: unknown = await together([Promise.reject(nowhere('a')), late, Promise.resolve(1)]).catch((one: unknown) => one);
    expect(named(error)).toEqual([422, ['a', 'b']]);
  });
});
