import { describe, expect, test } from '@jest/globals';
import { ByteBudget } from './byte-budget.js';

/** Work that is done when it is told to be. */
function held(): { readonly work: () => Promise<void>; readonly done: () => void; began: boolean } {
  let done = (): void => undefined;
  const end = new Promise<void>((resolve) => { done = resolve; });
  const state = { work: () => { state.began = true; return end; }, done: () => { done(); }, began: false };
  return state;
}

const settle = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 1));
const refusal = { status: 503, code: 'busy', message: 'Too much.', members: { retryAfterSeconds: 2 } };

describe('a budget of bytes', () => {
  test('lets in what fits, in the order of coming, and what is larger than all of it alone', async () => {
    const budget = new ByteBudget(10, 10, 1000, 'Too much.');
    const [six, five, four, huge] = [held(), held(), held(), held()];
    const all = [budget.run(6, six.work), budget.run(5, five.work), budget.run(4, four.work), budget.run(99, huge.work)];
    await settle();
    // Four would fit beside six, but five came before.
    expect([six.began, five.began, four.began, huge.began]).toEqual([true, false, false, false]);
    six.done();
    await settle();
    expect([five.began, four.began, huge.began]).toEqual([true, true, false]);
    five.done();
    await settle();
    expect(huge.began).toBe(false);
    four.done();
    await settle();
    expect(huge.began).toBe(true);
    huge.done();
    await Promise.all(all);
  });

  test('refuses when too many wait, or for too long, and then lets in whoever fits behind', async () => {
    const budget = new ByteBudget(10, 2, 20, 'Too much.');
    const [first, second, third] = [held(), held(), held()];
    const running = budget.run(8, first.work);
    const large = budget.run(9, second.work);
    await new Promise((resolve) => setTimeout(resolve, 5));
    const small = budget.run(2, third.work);
    await expect(budget.run(1, held().work)).rejects.toMatchObject(refusal);
    await expect(large).rejects.toMatchObject(refusal);
    await settle();
    expect([second.began, third.began]).toEqual([false, true]);
    first.done();
    third.done();
    await Promise.all([running, small]);
  });

  test('gives back the share of work that fails', async () => {
    const budget = new ByteBudget(10, 2, 1000, 'Too much.');
    await expect(budget.run(10, () => Promise.reject(new Error('no')))).rejects.toThrow('no');
    await expect(budget.run(10, () => Promise.resolve('yes'))).resolves.toBe('yes');
  });
});
