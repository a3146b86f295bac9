import { expect, test } from '@jest/globals';
import { inTurns } from './in-turns.js';

test('gives the result of the work, and others their turn at each pause', async () => {
  const said: string[] = [];
  function* work(): Generator<undefined, string> {
    said.push('one');
    yield;
    said.push('two');
    yield;
    return 'done';
  }
  setImmediate(() => said.push('another'));
  expect(await inTurns(work())).toBe('done');
  expect(said).toEqual(['one', 'another', 'two']);
});

test('what the work throws is thrown, after a pause too', async () => {
  function* failing(): Generator<undefined, never> {
    yield;
    throw new RangeError('no values');
  }
  await expect(inTurns(failing())).rejects.toThrow(new RangeError('no values'));
});
