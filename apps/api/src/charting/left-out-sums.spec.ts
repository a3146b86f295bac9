import { expect, test } from '@jest/globals';
import { leftOutSums, leftOutWords } from './left-out-sums.js';

const out = (because: string, fromMm: number | null, toMm = 0): Parameters<typeof leftOutSums>[0][number] => ({ because, place: fromMm === null ? null : { fromMm, toMm } });

test('what was left out is told by reason, that with the most pipe first, pipe of two once', () => {
  const sums = leftOutSums([out('near S-1', 0, 500), out('not read', 1_000, 3_000), out('a bound', null), out('near S-1', 400, 900), out('a bound', null)]);
  expect(sums).toEqual([{ because: 'not read', count: 1, lengthMm: 2_000 }, { because: 'near S-1', count: 2, lengthMm: 900 }, { because: 'a bound', count: 2, lengthMm: 0 }]);
  expect(leftOutWords(sums)).toBe('1 (2.000 m): not read; 2 (0.900 m): near S-1; 2: a bound');
  expect(leftOutWords(leftOutSums([1, 2, 3, 4, 5].map((nth) => out(`reason ${nth}`, 0, nth * 1_000))))).toBe('1 (5.000 m): reason 5; 1 (4.000 m): reason 4; 1 (3.000 m): reason 3; 2 (3.000 m): 2 other reasons');
  expect([leftOutSums([]), leftOutWords([])]).toEqual([[], '']);
});
