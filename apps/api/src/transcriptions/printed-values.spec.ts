import { describe, expect, test } from '@jest/globals';
import { CHARACTERISTICS, type PrintedValue, type StripUnit } from '#libs/strip';
import { printed } from '../evaluation/coil-knowledge.factory.js';
import { impossible, keptLine, keptValue, unusual } from './printed-values.js';

const FIELD = 'lines[0].values[3]';
const limits = (value: Partial<PrintedValue>): string[] => impossible(printed(value), FIELD).map(({ field, limit }) => `${field.replace(`${FIELD}.`, '')}: ${limit}`);
const mechanical = (characteristic: string, digits: string, unit: StripUnit): Partial<PrintedValue> => ({ characteristic, analysis: null, printed: digits, unit });

describe('an impossible value', () => {
  test.each<[string, Partial<PrintedValue>, string]>([
    ['an unknown characteristic', { characteristic: 'c' }, 'characteristic: a known characteristic'],
    ['a unit of something else', { unit: 'MPa' }, 'unit: for C one of %, ppm'],
    ['another hardness scale', mechanical('HV10', '180', 'HV5'), 'unit: for HV10 one of HV10'],
    ['chemistry without analysis', { analysis: null }, 'analysis: heat or product, for C'],
    ['strength with an analysis', { ...mechanical('ReH', '446', 'MPa'), analysis: 'heat' }, 'analysis: no analysis, for ReH'],
    ['a decimal comma', { printed: '0,085' }, 'printed: "0,085" has a comma, which may part decimals or thousands: only a decimal point is read'],
    ['a multiplier of nothing', { multiplier: '0' }, 'printed: the multiplier "0" is not a number above 0'],
  ])('%s', (_, value, limit) => {
    expect(limits(value)).toEqual([limit]);
  });

  test('is told with what was sent', () => {
    expect(impossible(printed({ printed: '8.5' }), FIELD)).toEqual([{ field: `${FIELD}.printed`, value: '8.5', limit: 'C from 0 to 1.5 %: look at the unit and the multiplier' }]);
  });

  test.each(CHARACTERISTICS)('$code: its bounds are possible, and what lies just beyond them is not', ({ code, kind, units: [unit = '1'], possible }) => {
    const of = (digits: string): string[] => limits({ characteristic: code, analysis: kind === 'chemistry' || kind === 'carbon-equivalent' ? 'heat' : null, printed: digits, unit });
    expect([of(String(possible.min)), of(String(possible.max))]).toEqual([[], []]);
    expect(of(String(possible.max + 0.001))).toHaveLength(1);
    expect(of(String(possible.min - 0.001))).toHaveLength(1);
  });

  test.each<[string, Partial<PrintedValue>, boolean]>([
    ['1.5 % carbon as ppm', { printed: '15000', unit: 'ppm' }, true], ['beyond 1.5 % as ppm', { printed: '15001', unit: 'ppm' }, false],
    ['8.5 where the column is × 100', { printed: '8.5', multiplier: '100' }, true], ['150.1 where the column is × 100', { printed: '150.1', multiplier: '100' }, false],
    ['thickness of 0.197 in', mechanical('thickness', '0.197', 'in'), true], ['thickness of 1.19 in, 30.2 mm', mechanical('thickness', '1.19', 'in'), false],
    ['mass of 45 t', mechanical('mass', '45', 't'), true], ['mass of 45.1 t', mechanical('mass', '45.1', 't'), false], ['mass of 99 000 lb, 44 906 kg', mechanical('mass', '99000', 'lb'), true],
    ['strength of 65 ksi', mechanical('ReH', '65', 'ksi'), true], ['strength of 65 psi, 0.4 MPa', mechanical('ReH', '65', 'psi'), false], ['strength of 446 N/mm2', mechanical('ReH', '446', 'N/mm2'), true],
    ['a yield ratio of 84 %', mechanical('Y/T', '84', '%'), true], ['a yield ratio of 84', mechanical('Y/T', '84', '1'), false],
    ['a bound that is possible', { printed: '<0.0005' }, true], ['a bound that is not', { printed: '>1.6' }, false],
  ])('%s: possible %s', (_, value, isPossible) => {
    expect(limits(value)).toHaveLength(isPossible ? 0 : 1);
  });
});

describe('an unusual value', () => {
  const asked = (value: Partial<PrintedValue>): ReturnType<typeof unusual> => unusual(printed(value), FIELD);

  test('is asked about with its digits, once', () => {
    expect(asked({ printed: '0.31' })).toEqual([{ tier: 'implausible', field: `${FIELD}.printed`, value: '0.31', limit: 'usually at least 0 %, at most 0.25 %' }]);
  });

  test.each(CHARACTERISTICS.filter(({ usual }) => usual !== null))('$code: its bounds are usual, and what lies just beyond them is not', ({ code, kind, units: [unit = '1'], usual, possible }) => {
    const of = (number: number): number => asked({ characteristic: code, analysis: kind === 'chemistry' || kind === 'carbon-equivalent' ? 'heat' : null, printed: String(number), unit }).length;
    expect([of(usual?.min ?? 0), of(usual?.max ?? 0)]).toEqual([0, 0]);
    expect(of((usual?.max ?? 0) + 0.001)).toBe(1);
    if ((usual?.min ?? 0) > possible.min) expect(of((usual?.min ?? 0) - 0.001)).toBe(1);
  });

  test('in another unit is told in the first, with the digits as printed', () => {
    expect(asked({ printed: '3100', unit: 'ppm' })).toMatchObject([{ value: '3100', limit: 'usually at least 0 %, at most 0.25 %' }]);
    expect(asked(mechanical('ReH', '65', 'ksi'))).toEqual([]);
    expect(asked(mechanical('ReH', '131', 'ksi'))).toMatchObject([{ value: '131', limit: 'usually at least 200 MPa, at most 900 MPa' }]);
  });

  test('is none where nothing is usual, nor where it cannot be read', () => {
    expect(asked(mechanical('thickness', '29', 'mm'))).toEqual([]);
    expect(asked({ characteristic: 'Si', printed: '2.9' })).toEqual([]);
    expect(asked({ printed: '0,31' })).toEqual([]);
    expect(asked({ characteristic: 'c', printed: '99' })).toEqual([]);
  });
});

describe('a value as it is kept', () => {
  test('has null for what was not given, and a multiplier of 1', () => {
    expect(keptValue({ characteristic: 'C', analysis: 'heat', printed: '0.085', unit: '%' })).toEqual(printed());
    expect(keptLine({ heatNumber: 'H40711', values: [{ characteristic: 'HV10', printed: '180', unit: 'HV10', multiplier: '10', location: 'head' }] }))
      .toEqual({ coilNumber: null, heatNumber: 'H40711', values: [printed({ characteristic: 'HV10', analysis: null, printed: '180', unit: 'HV10', multiplier: '10', location: 'head' })] });
  });
});
