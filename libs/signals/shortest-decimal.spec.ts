import { describe, expect, test } from '@jest/globals';
import { shortestDecimal } from './shortest-decimal.js';

describe('the shortest decimal of a single', () => {
  test.each([4.7, 4.61, 127.123, 0.1, 1e-7, 16_777_215, 0, -4.75, 8.589973])('%p is what it was read as', (read) => {
    expect(shortestDecimal(Math.fround(read))).toBe(read);
  });

  test('has as many digits as tell it from its neighbours, and no more than nine', () => {
    const one = Math.fround(16_777_216.5);
    expect(Math.fround(shortestDecimal(one))).toBe(one);
    const awkward = new Float32Array(new Uint32Array([0x3f9d70a5]).buffer)[0] as number;
    expect([Math.fround(shortestDecimal(awkward)) === awkward, String(shortestDecimal(awkward)).length <= 11]).toEqual([true, true]);
  });

  test('of what is no number is that', () => {
    expect([shortestDecimal(NaN), shortestDecimal(Infinity), shortestDecimal(-Infinity)]).toEqual([NaN, Infinity, -Infinity]);
  });
});
