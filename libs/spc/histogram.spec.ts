import { describe, expect, test } from '@jest/globals';
import { decimal, exactText, ratio } from '#libs/exact';
import { histogram } from '#libs/spc';

const classes = (texts: readonly string[]): [from: string | null, to: string | null, count: number][] =>
  histogram(texts.map(decimal)).map(({ from, to, count }) => [exactText(from), exactText(to), count]);

describe('histogram', () => {
  test('a value on an edge belongs to the class above it', () => {
    // Five values aim at 4 classes; the range 0.020 over 4 is 0.005, which is 5 times a power of ten. In floating point
    // 0.085 over 0.005 falls below 17.
    expect(classes(['0.085', '0.080', '0.0849', '0.100', '0.095'])).toEqual([
      ['0.08', '0.085', 2], ['0.085', '0.09', 1], ['0.09', '0.095', 0], ['0.095', '0.1', 1], ['0.1', '0.105', 1],
    ]);
  });

  test('the width is the next of 1, 2 and 5: one step either side', () => {
    const widths = ['4', '4.000001', '8', '8.000001', '20', '20.000001'].map((highest) => {
      const [first] = histogram(['0', '0.1', '0.2', '0.3', highest].map(decimal));
      return exactText(first!.to);
    });
    expect(widths).toEqual(['1', '2', '2', '5', '5', '10']);
  });

  test('below zero classes run upwards as above it', () => {
    expect(classes(['-1.5', '-0.5', '0.5', '1.5'])).toEqual([['-2', '-1', 1], ['-1', '0', 1], ['0', '1', 1], ['1', '2', 1]]);
  });

  test('more values make more classes', () => {
    const among = (n: number): number => histogram(Array.from({ length: n }, (_, index) => ratio(BigInt(index), BigInt(n - 1)))).length;
    // Ranges of 1: 1 + log2 n is 5 for 16 values (width 0.2) and 11 for 1024 (width 0.1); the last class holds 1 alone.
    expect([among(16), among(17), among(1024)]).toEqual([6, 6, 11]);
  });

  test('equal values make one class without width; no values make none', () => {
    expect(classes(['5.02', '5.02', '5.020'])).toEqual([['5.02', '5.02', 3]]);
    expect(classes(['5.02'])).toEqual([['5.02', '5.02', 1]]);
    expect(histogram([])).toEqual([]);
  });
});
