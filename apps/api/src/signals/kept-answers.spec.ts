import { expect, test } from '@jest/globals';
import { KeptAnswers } from './kept-answers.js';

test('an answer is kept while its stamp stays the same, and goes where others need the room', async () => {
  const kept = new KeptAnswers<string[]>(10, ({ length }) => length);
  let loads = 0;
  const load = (words: string[]) => async (): Promise<string[]> => {
    loads += 1;
    return Promise.resolve(words);
  };
  const first = await kept.of('a', '1', load(['x']));
  expect([await kept.of('a', '1', load(['y'])) === first, loads]).toEqual([true, 1]);
  expect([await kept.of('a', '2', load(['y'])), await kept.of('a', '2', load(['z'])), loads]).toEqual([['y'], ['y'], 2]);
  await kept.of('b', '1', load(new Array<string>(9).fill('w')));
  expect([await kept.of('a', '2', load(['v'])), loads]).toEqual([['v'], 4]);
  // One that is larger than all the room is given, and not kept.
  expect((await kept.of('c', '1', load(new Array<string>(50).fill('u')))).length).toBe(50);
  expect((await kept.of('c', '1', load(['t']))).length).toBe(1);
});
