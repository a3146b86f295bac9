import { expect, test } from '@jest/globals';
import { knownCoilLength } from './known-coil-length.js';

const coil = { widthMm: '400.0', thicknessMm: '5.00', massKg: '7850', lengthMm: 510_000 };

test('as stated, ± 0.5 % with k = 2', () => {
  expect(knownCoilLength(coil)).toEqual({ mm: 510_000, uMm: 1275, basis: 'as stated' });
});

test('else from its mass: 7850 kg / (7850 kg/m³ · 0.4 m · 0.005 m) = 500 m', () => {
  const { mm, uMm, basis } = knownCoilLength({ ...coil, lengthMm: null });
  expect({ mm: Math.round(mm), basis }).toEqual({ mm: 500_000, basis: 'from its mass' });
  // √(0.005² + (0.1 / √12 / 400)² + (0.01 / √12 / 5)²) = 0.00503373
  expect(uMm / mm).toBeCloseTo(0.00503373, 7);
});

test('a thickness read to a tenth of a millimetre is worth less', () => {
  const coarse = knownCoilLength({ ...coil, thicknessMm: '5.0', lengthMm: null });
  // √(0.005² + (0.1 / √12 / 400)² + (0.1 / √12 / 5)²) = 0.0076381
  expect(coarse.uMm / coarse.mm).toBeCloseTo(0.0076381, 6);
});
