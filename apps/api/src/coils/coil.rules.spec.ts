import { describe, expect, test } from '@jest/globals';
import { coilFindings, type CoilFigures } from './coil.rules.js';

/** 7,850 kg of 400 mm by 5 mm strip is 1 m³ / 0.002 m² = 500 m long, by hand. */
const usual: CoilFigures = {
  widthMm: '400', thicknessMm: '5.00', massKg: '7850', lengthMm: 500_000, cropMm: 1200, restMm: 0,
};

const fieldsAsked = (coil: CoilFigures): string[] => coilFindings(coil).map(({ field }) => field);

describe('the usual ranges', () => {
  test('a usual coil raises no question, with or without a stated length', () => {
    expect(coilFindings(usual)).toEqual([]);
    expect(coilFindings({ ...usual, lengthMm: null })).toEqual([]);
  });

  test.each([
    ['widthMm', '60', '59.9'], ['widthMm', '1100', '1100.1'],
    ['thicknessMm', '2', '1.999'], ['thicknessMm', '10', '10.01'],
    ['massKg', '1000', '999'], ['massKg', '30000', '30000.5'],
  ])('%s of %s is usual, of %s is asked about', (field, within, beyond) => {
    const coil = { ...usual, lengthMm: null, cropMm: 0 };
    expect(fieldsAsked({ ...coil, [field]: within })).toEqual([]);
    expect(fieldsAsked({ ...coil, [field]: beyond })).toEqual([field]);
  });
});

describe('the stated length against the mass', () => {
  test.each([475_000, 525_000])('%d mm for 500 m is within 5 %%', (lengthMm) => {
    expect(coilFindings({ ...usual, lengthMm })).toEqual([]);
  });

  test.each([474_999, 525_001])('%d mm for 500 m is asked about', (lengthMm) => {
    expect(coilFindings({ ...usual, lengthMm })).toEqual([
      {
        tier: 'implausible', field: 'lengthMm', value: String(lengthMm),
        limit: 'usually within 5 % of the 500000 mm that mass, width and thickness give',
      },
    ]);
  });

  test('feet typed for metres are caught', () => {
    expect(fieldsAsked({ ...usual, lengthMm: 1_640_420 })).toEqual(['lengthMm']);
  });
});

describe('crop and rest against the coil', () => {
  test('the whole coil may be left over', () => {
    expect(coilFindings({ ...usual, cropMm: 1200, restMm: 498_800 })).toEqual([]);
  });

  test('more than the coil is asked about, at the larger of the two', () => {
    const limit = 'crop and rest together usually at most the 500000 mm of the coil';
    expect(coilFindings({ ...usual, cropMm: 1200, restMm: 498_801 })).toEqual([
      { tier: 'implausible', field: 'restMm', value: '498801', limit },
    ]);
    expect(coilFindings({ ...usual, lengthMm: null, cropMm: 500_001 })).toEqual([
      { tier: 'implausible', field: 'cropMm', value: '500001', limit },
    ]);
  });
});
