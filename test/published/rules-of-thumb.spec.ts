// Common practice, no published source: orders of magnitude that whoever knows the trade would expect.
import { describe, expect, test } from '@jest/globals';
import { coilLengthMm } from '#libs/length';
import { wellPath } from '#libs/survey';

/** Strip for a pipe, from its mean circumference: w = π (inner diameter + t). */
function stripWidthMm(innerDiameterMm: number, thicknessMm: number): number {
  return Math.PI * (innerDiameterMm + thicknessMm);
}

/** Coils for a well whose two walls take twice its depth in pipe. */
function coilsForWell(depthM: number, innerDiameterMm: number, thicknessMm: number, coilMassKg: number): number {
  const coilM = coilLengthMm(coilMassKg, stripWidthMm(innerDiameterMm, thicknessMm), thicknessMm) / 1000;
  return (2 * depthM) / coilM;
}

describe('a well of a few hundred metres takes only a few coils (common practice, no published source)', () => {
  test.each([
    { inner: '4-inch', innerDiameterMm: 101.6, thicknessMm: 5 },
    { inner: '7-inch', innerDiameterMm: 177.8, thicknessMm: 6 },
  ])('$inner inner diameter, 300 m deep, coils of 10 t', ({ innerDiameterMm, thicknessMm }) => {
    const coils = coilsForWell(300, innerDiameterMm, thicknessMm, 10_000);
    expect(coils).toBeGreaterThan(0.5);
    expect(coils).toBeLessThan(5);
  });

  test('5 t of 300 × 6 mm strip is 354 m (worked by hand: 5000 / (7850 · 0.3 · 0.006) = 353.9 m)', () => {
    expect(coilLengthMm(5000, 300, 6) / 1000).toBeCloseTo(353.86, 2);
  });
});

test('a survey may start where the pipe enters, 80° from vertical, and turn down (common practice, no published source)', () => {
  const path = wellPath([
    { mdMm: 0, inclinationDeg: 80, azimuthDeg: 0 },
    { mdMm: 15_000, inclinationDeg: 0, azimuthDeg: 0 },
    { mdMm: 300_000, inclinationDeg: 0, azimuthDeg: 0 },
  ]);
  // An arc of 15 m over 80° has a radius of 15 / (80 π / 180) = 10.743 m and goes R sin 80° = 10.580 m down.
  expect(path.positionAt(15_000).tvdMm).toBeCloseTo(10_580, -1);
  expect(path.positionAt(300_000).tvdMm).toBeCloseTo(10_580 + 285_000, -1);
});
