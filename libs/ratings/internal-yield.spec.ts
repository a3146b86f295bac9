import { describe, expect, test } from '@jest/globals';
import { barlowInternalYield, lameStresses, triaxialInternalYield, vonMises } from '#libs/ratings';

describe('internal yield', () => {
  test('Barlow is the mean hoop stress over the bore taken at the outside diameter', () => {
    expect(barlowInternalYield(500, 20, 1)).toBe(50);
    expect(barlowInternalYield(500, 20, 0.875)).toBe(43.75);
  });

  test.each([[6, 1], [6, 0.875], [14.05, 0.875], [20.4, 1], [45, 0.875]])('at D/t %p and factor %p the bore just yields, and nothing further out does', (dOverT, wallFactor) => {
    const pressure = triaxialInternalYield(552, dOverT, wallFactor);
    const [outsideRadius, insideRadius] = [100, 100 * (1 - (2 * wallFactor) / dOverT)];
    const wall = (internalPressure: number) => ({ insideRadius, outsideRadius, internalPressure, externalPressure: 0, axialStress: 0 });
    const radii = Array.from({ length: 201 }, (_, index) => Math.min(insideRadius + ((outsideRadius - insideRadius) * index) / 200, outsideRadius));
    const worst = (internalPressure: number): number => Math.max(...radii.map((radius) => vonMises(lameStresses(wall(internalPressure), radius))));
    expect(worst(pressure) / 552).toBeCloseTo(1, 12);
    // The same pressure by halving, from stresses alone.
    let [low, high] = [0, 552];
    for (let step = 0; step < 60; step += 1) [low, high] = worst((low + high) / 2) < 552 ? [(low + high) / 2, high] : [low, (low + high) / 2];
    expect(low / pressure).toBeCloseTo(1, 10);
    // With closed ends, and their axial stress, the bore yields later.
    const closed = { ...wall(pressure), axialStress: (pressure * insideRadius ** 2) / (outsideRadius ** 2 - insideRadius ** 2) };
    expect(vonMises(lameStresses(closed, insideRadius))).toBeLessThan(552);
  });

  test('a very thin wall yields at the same pressure by both', () => {
    expect(triaxialInternalYield(500, 4000, 1) / barlowInternalYield(500, 4000, 1)).toBeCloseTo(1, 3);
  });

  test('at the surfaces the radial stress is the pressure there, and hoop and radial stress have one sum throughout', () => {
    const wall = { insideRadius: 40, outsideRadius: 50, internalPressure: 30, externalPressure: 7, axialStress: 100 };
    expect(lameStresses(wall, 40).radial).toBeCloseTo(-30, 10);
    expect(lameStresses(wall, 50).radial).toBeCloseTo(-7, 10);
    const sums = [40, 43, 47, 50].map((radius) => lameStresses(wall, radius)).map(({ radial, hoop }) => radial + hoop);
    for (const sum of sums) expect(sum).toBeCloseTo(sums[0]!, 10);
    // Equilibrium of half the ring: the hoop stress through the wall carries what the pressures push.
    const steps = 20_000;
    let carried = 0;
    for (let step = 0; step < steps; step += 1) carried += (lameStresses(wall, 40 + (10 * (step + 0.5)) / steps).hoop * 10) / steps;
    expect(carried).toBeCloseTo(30 * 40 - 7 * 50, 5);
  });

  test.each([[0, 20, 1], [-1, 20, 1], [500, 2, 1], [500, Number.NaN, 1], [500, 20, 0], [500, 20, 1.01], [Infinity, 20, 1]])('Y %p, D/t %p and factor %p are refused', (yieldStrength, dOverT, factor) => {
    expect(() => barlowInternalYield(yieldStrength, dOverT, factor)).toThrow(RangeError);
    expect(() => triaxialInternalYield(yieldStrength, dOverT, factor)).toThrow(RangeError);
  });

  test('radii that are no wall, or outside it, are refused', () => {
    const wall = { insideRadius: 40, outsideRadius: 50, internalPressure: 1, externalPressure: 0, axialStress: 0 };
    expect(() => lameStresses(wall, 39.9)).toThrow(new RangeError('radius is not from 40 to 50: 39.9'));
    expect(() => lameStresses({ ...wall, insideRadius: 50 }, 50)).toThrow(RangeError);
    expect(() => lameStresses({ ...wall, insideRadius: 0 }, 40)).toThrow(RangeError);
  });
});
