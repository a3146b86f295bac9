import { describe, expect, test } from '@jest/globals';
import { randomFrom } from '../../test/fixtures/signals.js';
import { fromDecimals, likelyPlaces, toDecimals } from './decimal-values.js';
import { bitsOf } from './sample.js';

const { abs, floor, fround, round } = Math;

describe('values as decimals', () => {
  test('are found with the fewest places that write them', () => {
    expect(likelyPlaces(Float32Array.of(5.012, 4.998, 5.1, 5))).toEqual([3]);
    expect(likelyPlaces(Float32Array.of(12.4, 0.8, 100))).toEqual([1]);
    expect(likelyPlaces(Float32Array.of(1, 2, -30))).toEqual([0]);
  });

  test('are not sought where most have none', () => {
    expect(likelyPlaces(Float32Array.of(NaN, Infinity, -Infinity, -0))).toEqual([]);
    expect(likelyPlaces(Float32Array.of(1e-20, 3e30, 2e38))).toEqual([]);
  });

  test('keep apart what is no decimal of so many places, −0 and NaN among them', () => {
    const values = Float32Array.of(5.01, NaN, -0, 0, 5.012, -5.01, 1e30);
    const { first, distances, apart } = toDecimals(values, 2);
    expect([...distances].map((distance) => first + distance)).toEqual([501, 501, 501, 0, 0, -501, -501]);
    expect(apart).toEqual([1, 2, 4, 6]);
    // The first of those, too.
    expect(toDecimals(Float32Array.of(NaN, 5.01), 2)).toEqual({ first: 0, distances: Int32Array.of(0, 501), apart: [0] });
  });

  test('come back as the float32 nearest to the decimal, for every step of an instrument', () => {
    const values = Float32Array.from({ length: 30_000 }, (_, index) => index / 1000);
    const { first, distances, apart } = toDecimals(values, 3);
    const back = new Float32Array(values.length);
    fromDecimals(distances, { first, step: 1, places: 3 }, back);
    expect(apart).toEqual([]);
    expect(back).toEqual(values);
  });

  test('are told by the inverse of a power of ten as by the power itself', () => {
    const random = randomFrom(11);
    // Decimals of up to nine digits, their neighbours among float32, and what lies about the middle of two of these.
    const values = Float32Array.from({ length: 40_000 }, () => round(random() * 10 ** (1 + random() * 8)) / 10 ** floor(random() * 8));
    const bits = bitsOf(values);
    for (let index = 0; index < bits.length; index += 3) bits[index] = (bits[index] as number) + (random() < 0.5 ? 1 : -1);
    for (let places = 0; places <= 7; places += 1) {
      const power = 10 ** places;
      const isDecimal = (value: number): boolean => abs(round(value * power)) < 2 ** 30 && fround(round(value * power) / power) === value;
      const { apart } = toDecimals(values, places);
      const divided = [...values.keys()].filter((index) => !isDecimal(values[index] as number));
      expect(apart).toEqual(divided);
      expect(apart.length).toBeGreaterThan(4_000);
      expect(apart.length).toBeLessThan(39_000);
    }
  });
});
