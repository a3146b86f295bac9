import { describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import { compare, minus, ratio, toNumber } from '#libs/exact';
import { histogram, percentile, summaryOf } from '#libs/spc';
import { seedFromEnvironment } from '../setup/seed.js';

const PARAMETERS = { ...seedFromEnvironment(), numRuns: 300 };

/** Decimals of a few places, many of them alike, of any size. */
const values = fc.tuple(fc.integer({ min: 0, max: 6 }), fc.array(fc.integer({ min: -3000, max: 3000 }), { minLength: 1, maxLength: 200 }))
  .map(([decimals, units]) => units.map((unit) => ratio(BigInt(unit), 10n ** BigInt(decimals))));

describe('histogram', () => {
  test('every value lies in its class, classes join without gap, and there are no more than the rule says', () => {
    fc.assert(fc.property(values, (given) => {
      const classes = histogram(given);
      const isAlone = classes.length === 1 && compare(classes[0]!.from, classes[0]!.to) === 0;
      for (const { from, to, count } of classes) {
        const within = given.filter((value) => isAlone || (compare(from, value) <= 0 && compare(value, to) < 0));
        expect(count).toBe(within.length);
      }
      expect(classes.reduce((sum, { count }) => sum + count, 0)).toBe(given.length);
      expect(classes.length).toBeLessThanOrEqual(2 + Math.ceil(Math.log2(given.length)));
      classes.slice(1).forEach(({ from }, index) => { expect(compare(from, classes[index]!.to)).toBe(0); });
      expect(classes[0]!.count).toBeGreaterThan(0);
      expect(classes.at(-1)!.count).toBeGreaterThan(0);
    }), PARAMETERS);
  });

  test('the width is 1, 2 or 5 times a power of ten, and the next narrower one would be too narrow', () => {
    fc.assert(fc.property(values, (given) => {
      const [first] = histogram(given);
      const width = toNumber(minus(first!.to, first!.from));
      fc.pre(width > 0);
      const digit = Number(width.toExponential(10).split('e')[0]);
      expect([1, 2, 5]).toContain(digit);
      const narrower = digit === 5 ? (2 / 5) * width : width / 2;
      const numbers = given.map(toNumber);
      const aimed = 1 + Math.ceil(Math.log2(given.length));
      const range = Math.max(...numbers) - Math.min(...numbers);
      expect(width * aimed).toBeGreaterThanOrEqual(range * (1 - 1e-12));
      expect(narrower * aimed).toBeLessThan(range * (1 + 1e-12));
    }), PARAMETERS);
  });
});

describe('summaries', () => {
  test('equal exact arithmetic on the same values', () => {
    fc.assert(fc.property(values, (given) => {
      const n = BigInt(given.length);
      const scale = 10n ** 6n;
      const units = given.map(({ numerator, denominator }) => (numerator * scale) / denominator);
      const sum = units.reduce((total, unit) => total + unit, 0n);
      const squares = units.reduce((total, unit) => total + (n * unit - sum) ** 2n, 0n);
      const { mean, standardDeviation } = summaryOf(given.map(toNumber));
      const exactMean = toNumber(ratio(sum, n * scale));
      const size = Math.max(...given.map((value) => Math.abs(toNumber(value))), 1e-300);
      expect(Math.abs(mean - exactMean)).toBeLessThanOrEqual(1e-14 * size);
      if (given.length === 1) expect(standardDeviation).toBeNull();
      else expect(Math.abs(standardDeviation! - Math.sqrt(toNumber(ratio(squares, n * n * (n - 1n) * scale * scale))))).toBeLessThanOrEqual(1e-13 * size);
    }), PARAMETERS);
  });

  test('a percentile rises with its share, and lies within the values', () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(fc.property(values, share, share, (given, one, other) => {
      const numbers = given.map(toNumber);
      const [low, high] = [percentile(numbers, Math.min(one, other)), percentile(numbers, Math.max(one, other))];
      const { min, max } = summaryOf(numbers);
      // Between neighbours the straight line may round past its end by a last digit.
      const slack = 1e-15 * Math.max(Math.abs(min), Math.abs(max));
      expect(low).toBeLessThanOrEqual(high + slack);
      expect(low).toBeGreaterThanOrEqual(min - slack);
      expect(high).toBeLessThanOrEqual(max + slack);
    }), PARAMETERS);
  });
});
