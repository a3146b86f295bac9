import { describe, expect, test } from '@jest/globals';
import { Slots } from './slots.js';

describe('Slots', () => {
  test('runs at most so many at once, all of them in order, and goes on after a failure', async () => {
    const slots = new Slots(2, 10, 'Too much.');
    const started: number[] = [];
    let running = 0;
    let most = 0;
    const work = (number: number) => async (): Promise<number> => {
      started.push(number);
      running += 1;
      most = Math.max(most, running);
      await new Promise((resolve) => setTimeout(resolve, 2));
      running -= 1;
      if (number === 1) throw new Error('one fails');
      return number;
    };
    const results = await Promise.allSettled([0, 1, 2, 3, 4, 5].map((number) => slots.run(work(number))));
    expect(most).toBe(2);
    expect(started).toEqual([0, 1, 2, 3, 4, 5]);
    expect(results.map(({ status }) => status)).toEqual([
      'fulfilled', 'rejected', 'fulfilled', 'fulfilled', 'fulfilled', 'fulfilled',
    ]);
  });

  test('refuses when too many wait', async () => {
    const slots = new Slots(1, 1, 'Too much.');
    const slow = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 5));
    const both = [slots.run(slow), slots.run(slow)];
    await expect(slots.run(slow)).rejects.toMatchObject({ status: 503, message: 'Too much.' });
    await Promise.all(both);
  });
});
