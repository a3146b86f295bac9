import { describe, expect, test } from '@jest/globals';
import { risingChain } from './rising-chain.js';

const start = { netMm: 0, mdMm: 0 };
const points = (...pairs: [number, number][]) => pairs.map(([netMm, mdMm]) => ({ netMm, mdMm }));

describe('the longest rising chain', () => {
  test('is all of them when all rise', () => {
    const all = points([1, 1], [2, 3], [5, 4]);
    expect(risingChain(start, all)).toEqual(all);
  });

  test('drops one wrong point and keeps the right ones after it', () => {
    const [a, tooDeep, b, c] = points([1, 1], [2, 90], [3, 3], [4, 4]);
    expect(risingChain(start, [a!, tooDeep!, b!, c!])).toEqual([a, b, c]);
  });

  test('rises strictly in both, from the start on', () => {
    expect(risingChain(start, points([0, 1], [1, 0], [-1, 5]))).toEqual([]);
    expect(risingChain(start, points([1, 1], [1, 2], [2, 1]))).toEqual(points([1, 1]));
  });
});
