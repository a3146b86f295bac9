import { expect, test } from '@jest/globals';
import { coilAccount } from './coil-account.js';

const coil = { widthMm: '400.0', thicknessMm: '5.00', massKg: '7850', lengthMm: 500_000, cropMm: 1200, restMm: 20_000 };

test('strip used on two strings, strip not used, and strip that nobody says anything of', () => {
  expect(coilAccount(coil, [{ fromMm: 1200, toMm: 300_000 }, { fromMm: 300_000, toMm: 470_000 }])).toEqual({
    lengthMm: 500_000, lengthPlusMinusMm: 2500, basis: 'as stated', usedMm: 468_800, cropMm: 1200, restMm: 20_000,
    notUsed: [{ fromMm: 0, toMm: 1200 }, { fromMm: 470_000, toMm: 500_000 }],
    unaccountedMm: 10_000,
  });
});

test('more strip than the coil had is a negative rest', () => {
  expect(coilAccount({ ...coil, restMm: 0 }, [{ fromMm: 1200, toMm: 501_000 }])).toMatchObject({ unaccountedMm: -1000, notUsed: [{ fromMm: 0, toMm: 1200 }] });
});
