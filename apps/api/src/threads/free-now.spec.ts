import { describe, expect, test } from '@jest/globals';
import { freeNow } from './free-now.js';

describe('memory given back', () => {
  test('is free at once, without the collector', () => {
    const pieces = Array.from({ length: 3 }, () => new Uint8Array(16 * 1024 * 1024).fill(1));
    const before = process.memoryUsage().arrayBuffers;
    freeNow(pieces);
    expect(before - process.memoryUsage().arrayBuffers).toBeGreaterThanOrEqual(48 * 1024 * 1024);
    expect(pieces.map(({ length }) => length)).toEqual([0, 0, 0]);
  });
});
