import { describe, expect, test } from '@jest/globals';
import { exactText } from '#libs/exact';
import type { PrintedValue, Requirement } from '#libs/strip';
import type { AskedValue } from './asked-values.js';
import { gathered, printed, requirement, suppliedCoil } from './supplied-coil.factory.js';

/** One value beside one requirement. */
function one(asked: Partial<Requirement>, value: Partial<PrintedValue>): AskedValue {
  const { characteristics } = gathered([suppliedCoil({ number: 'A', requirements: [requirement(asked)], values: [printed(value)] })]);
  return characteristics[0]!.values[0]!;
}

const numberText = ({ number }: AskedValue): string | null => (number === null ? null : exactText(number));

describe('a value', () => {
  test('is a number with its multiplier taken out, in the unit of the requirement', () => {
    expect(numberText(one({}, { printed: '8.5', multiplier: '100' }))).toBe('0.085');
    expect(numberText(one({ characteristic: 'N', max: '0.012' }, { characteristic: 'N', printed: '64', unit: 'ppm' }))).toBe('0.0064');
    expect(numberText(one({ unit: 'ppm', max: '1200' }, { printed: '0.085' }))).toBe('850');
  });

  test('known only to a bound is counted apart, and is outside only when it is so whatever it is', () => {
    expect(one({}, { printed: '<0.001' })).toMatchObject({ kind: 'censored', number: null, isOutside: false });
    expect(one({}, { printed: '>0.12' })).toMatchObject({ kind: 'censored', isOutside: false });
    expect(one({}, { printed: '>0.13' })).toMatchObject({ kind: 'censored', isOutside: true });
  });

  test('that cannot be read is counted apart', () => {
    expect(one({}, { printed: '0,085' })).toMatchObject({ kind: 'unreadable', number: null, isOutside: false });
  });

  test('of another temperature, or another base length, is of something else', () => {
    const impact = { characteristic: 'KV2', analysis: null, min: '27', max: null, unit: 'J', temperatureC: '-20' } as const;
    const tested = { characteristic: 'KV2', analysis: null, printed: '60', unit: 'J' } as const;
    expect(one(impact, { ...tested, temperatureC: '-20.0' }).kind).toBe('number');
    for (const temperatureC of ['-19', '-40', null]) expect(one(impact, { ...tested, temperatureC }).kind).toBe('other-conditions');
    const camber = { characteristic: 'camber', analysis: null, max: '5', unit: 'mm', baseMm: '2000' } as const;
    const measured = { characteristic: 'camber', analysis: null, printed: '3', unit: 'mm' } as const;
    expect(one(camber, { ...measured, baseMm: '2000' }).kind).toBe('number');
    expect(one(camber, { ...measured, baseMm: '5000' })).toMatchObject({ kind: 'other-conditions', isOutside: false });
  });

  test('in a unit that has no way to that of the limits is of something else', () => {
    expect(one({}, { unit: 'MPa' }).kind).toBe('other-conditions');
  });

  test('is outside by the rules of the revision: 0.1249 rounds to 0.12', () => {
    expect(one({}, { printed: '0.1249' }).isOutside).toBe(false);
    expect(one({}, { printed: '0.1251' }).isOutside).toBe(true);
  });
});

describe('many coils', () => {
  test('are grouped by characteristic, analysis, condition and unit', () => {
    const requirements = [requirement(), requirement({ analysis: 'product', max: '0.14' })];
    const values = [printed(), printed({ analysis: 'product', printed: '0.087' }), printed({ characteristic: 'Si', printed: '0.2' })];
    const inPpm = [requirement({ unit: 'ppm', max: '1200' })];
    const { characteristics, notAskedForCount } = gathered([
      suppliedCoil({ number: 'A', requirements, values }),
      suppliedCoil({ number: 'B', requirements: inPpm, values: [printed()], revision: 2 }),
    ]);
    expect(characteristics.map(({ name, requirement: { unit }, asked, values: own }) => [name, unit, asked.length, own.length])).toEqual([
      ['C, heat analysis', '%', 1, 1], ['C, product analysis', '%', 1, 1], ['C, heat analysis', 'ppm', 1, 1],
    ]);
    expect(notAskedForCount).toBe(1);
  });

  test('none give nothing', () => {
    expect(gathered([])).toEqual({ characteristics: [], notAskedForCount: 0 });
  });
});
