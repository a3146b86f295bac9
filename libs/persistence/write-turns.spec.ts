import { expect, test } from '@jest/globals';
import type { DataSource } from 'typeorm';
import { NoTurn, WriteTurns } from './write-turns.js';

test('so many write at once, the others in order, and after a failure too', async () => {
  const turns = new WriteTurns(2);
  const started: number[] = [];
  let [running, most] = [0, 0];
  const results = await Promise.allSettled([0, 1, 2, 3, 4].map((number) => turns.run(async () => {
    started.push(number);
    running += 1;
    most = Math.max(most, running);
    await new Promise((resolve) => setTimeout(resolve, 2));
    running -= 1;
    if (number === 1) throw new Error('one fails');
  })));
  expect([most, started]).toEqual([2, [0, 1, 2, 3, 4]]);
  expect(results.map(({ status }) => status)).toEqual(['fulfilled', 'rejected', 'fulfilled', 'fulfilled', 'fulfilled']);
});

test('who waited too long gets no turn, and takes none from the others', async () => {
  const turns = new WriteTurns(1, 5);
  let end = (): void => undefined;
  const long = turns.run(() => new Promise<void>((resolve) => { end = resolve; }));
  await expect(turns.run(() => Promise.resolve())).rejects.toThrow(NoTurn);
  const next = turns.run(() => Promise.resolve('next'));
  end();
  await long;
  expect(await next).toBe('next');
});

test.each([[2, 1], [3, 2], [10, 7], [50, 35]])('of a pool of %i, %i connections are for writes', async (poolSize, atOnce) => {
  const turns = WriteTurns.of({ options: { poolSize } } as unknown as DataSource);
  let running = 0;
  let end = (): void => undefined;
  const ended = new Promise<void>((resolve) => { end = resolve; });
  const works = Array.from({ length: poolSize }, () => turns.run(async () => {
    running += 1;
    await ended;
  }));
  await new Promise((resolve) => setTimeout(resolve, 1));
  expect(running).toBe(atOnce);
  end();
  await Promise.all(works);
});
