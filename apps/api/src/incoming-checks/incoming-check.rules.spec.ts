import { describe, expect, test } from '@jest/globals';
import { EN_10051_CATEGORY_A, evaluator, type Requirement, type StripUnit } from '#libs/strip';
import { checkRow, requirement } from '../evaluation/coil-knowledge.factory.js';
import type { Finding } from '../records/plausibility.js';
import type { CheckReading, IncomingCheck } from './incoming-check.entity.js';
import { outOfSpecification, placeOf, sourcedReadings, unlikelyReadings, valuesOf } from './incoming-check.rules.js';

const reading = (printed: string, changes: Partial<CheckReading> = {}): CheckReading => ({ printed, along: 'head', across: 'centre', fromEdgeMm: null, ...changes });
const check = (printed: readonly string[], changes: Partial<IncomingCheck> = {}): IncomingCheck => checkRow({ readings: printed.map((one) => reading(one)), ...changes });
const ordered = { thicknessMm: '5.00', widthMm: '383.0' };

describe('a reading', () => {
  test.each<[CheckReading, string]>([
    [reading('5.02'), 'head, centre'], [reading('5.02', { along: 'tail', across: 'far-edge', fromEdgeMm: '25' }), 'tail, far edge, 25 mm from the edge'], [reading('383.1', { along: 'body', across: null }), 'body'],
  ])('%j lies at %s', (one, place) => {
    expect(placeOf(one)).toBe(place);
  });

  test('is a value with the unit, uncertainty and base length of its check, and no multiplier', () => {
    expect(valuesOf(check(['1.5'], { characteristic: 'camber', expandedU: '0.1', baseMm: '2000' }))).toEqual([{
      characteristic: 'camber', analysis: null, printed: '1.5', unit: 'mm', multiplier: '1', expandedU: '0.1', temperatureC: null, baseMm: '2000', location: 'head, centre', direction: null,
    }]);
  });
});

describe('an unlikely reading', () => {
  const unlikely = (printed: string, characteristic = 'thickness', unit: StripUnit = 'mm', size: typeof ordered | null = ordered): Finding[] =>
    unlikelyReadings(check(['5.00', printed], { characteristic, unit }), size).filter(({ field }) => field.startsWith('readings[1]'));

  test('is a thickness further than 10 % from the ordered one', () => {
    for (const digits of ['4.50', '5.50']) expect(unlikely(digits)).toEqual([]);
    expect(unlikely('4.49')).toEqual([{ tier: 'implausible', field: 'readings[1].printed', value: '4.49', limit: 'usually within 10 % of the 5.00 mm ordered' }]);
    expect(unlikely('5.51')).toHaveLength(1);
  });

  test('is a width further than 3 mm from the ordered one', () => {
    for (const digits of ['380.0', '386.0']) expect(unlikely(digits, 'width')).toEqual([]);
    expect(unlikely('379.9', 'width')).toMatchObject([{ limit: 'usually within 3 mm of the 383.0 mm ordered' }]);
    expect(unlikely('386.1', 'width')).toHaveLength(1);
  });

  test('is told with the slip that it looks like', () => {
    expect(unlikely('50.1')).toMatchObject([{ limit: expect.stringContaining('; it looks like decimal point one place too far right') }]);
    expect(unlikely('15.08', 'width')).toMatchObject([{ limit: expect.stringContaining('; it looks like inches in a field of mm') }]);
  });

  test('is read in its own unit', () => {
    expect(unlikely('0.197', 'thickness', 'in')).toEqual([]);
    expect(unlikely('0.220', 'thickness', 'in')).toMatchObject([{ value: '0.220' }]);
    expect(unlikely('0.39', 'camber', 'in')).toEqual([]);
    expect(unlikely('0.40', 'camber', 'in')).toMatchObject([{ value: '0.40', limit: 'usually at least -10 mm, at most 10 mm' }]);
  });

  test('is a camber beyond 10 mm to either side, and a hardness that papers seldom print', () => {
    for (const digits of ['10', '-10']) expect(unlikely(digits, 'camber')).toEqual([]);
    for (const digits of ['10.1', '-10.1']) expect(unlikely(digits, 'camber')).toHaveLength(1);
    expect(unlikely('250', 'HV10', 'HV10')).toEqual([]);
    expect(unlikely('251', 'HV10', 'HV10')).toMatchObject([{ field: 'readings[1].printed', value: '251', limit: 'usually at least 100 HV10, at most 250 HV10' }]);
    expect(unlikely('241', 'HBW', 'HBW')).toHaveLength(1);
  });

  test('is none without an ordered size, nor of a bound, nor where nothing is usual', () => {
    expect(unlikely('9.99', 'thickness', 'mm', null)).toEqual([]);
    expect(unlikely('<9.99')).toEqual([]);
    expect(unlikely('4', 'crown')).toEqual([]);
  });
});

describe('out of specification', () => {
  const rules = { ownTables: [], conformity: { rounding: 'absolute', decision: 'simple-acceptance', guardFactor: '1' } } as const;
  const guarded = { ...rules, conformity: { ...rules.conformity, decision: 'guarded-acceptance' } } as const;
  const thickness = (changes: Partial<Requirement>): Requirement => requirement({ characteristic: 'thickness', analysis: null, max: null, unit: 'mm', ...changes });
  const deviation = thickness({ min: '-0.15', max: '0.15', limitOf: 'deviation' });
  const narrow = thickness({ min: '4.95', max: '5.10' });
  const findings = (printed: readonly string[], requirements: readonly Requirement[], changes: Partial<IncomingCheck> = {}, by: typeof rules | typeof guarded = rules): [string, string, string, string][] => {
    const one = check(printed, changes);
    return outOfSpecification(evaluator({ ...by, requirements }, ordered)(sourcedReadings(one)).lines, one.readings).map(({ tier, field, value, limit }) => [tier, field, value, limit]);
  };

  test('is told of the very reading, also where digits come again', () => {
    expect(findings(['5.00', '4.82', '5.00', '5.16', '4.82'], [deviation])).toEqual([
      ['out-of-specification', 'readings[1].printed', '4.82', '4.85 to 5.15 mm'], ['out-of-specification', 'readings[3].printed', '5.16', '4.85 to 5.15 mm'], ['out-of-specification', 'readings[4].printed', '4.82', '4.85 to 5.15 mm'],
    ]);
  });

  test('limits belong to what conforms', () => {
    expect(findings(['4.85', '5.15'], [deviation])).toEqual([]);
    expect(findings(['4.849', '5.151'], [deviation])).toHaveLength(2);
  });

  test('inside the guard band is noted', () => {
    expect(findings(['4.859', '4.860', '4.849'], [deviation], { expandedU: '0.01' }, guarded)).toEqual([
      ['noted', 'readings[0].printed', '4.859', '4.85 to 5.15 mm: inside the guard band'], ['out-of-specification', 'readings[2].printed', '4.849', '4.85 to 5.15 mm'],
    ]);
  });

  test('of several requirements each is told of its reading', () => {
    expect(findings(['5.00', '4.90', '4.80'], [deviation, narrow])).toEqual([
      ['out-of-specification', 'readings[2].printed', '4.80', '4.85 to 5.15 mm'],
      ['out-of-specification', 'readings[1].printed', '4.90', '4.95 to 5.10 mm'], ['out-of-specification', 'readings[2].printed', '4.80', '4.95 to 5.10 mm'],
    ]);
  });

  test('by a tolerance table beside explicit limits', () => {
    // EN 10051, category A, over 5 to 6 mm: ±0.26 mm for a width to 1200 mm.
    const table = thickness({ toleranceTable: EN_10051_CATEGORY_A.name });
    const own = thickness({ min: '5.45', max: '5.60' });
    const one = check(['5.50', '5.30', '5.23', '5.24']);
    const { lines } = evaluator({ ...rules, requirements: [table, own] }, { thicknessMm: '5.50', widthMm: '1000' })(sourcedReadings(one));
    expect(outOfSpecification(lines, one.readings).map(({ field, limit }) => [field, limit])).toEqual([
      ['readings[2].printed', '5.24 to 5.76 mm'],
      ['readings[1].printed', '5.45 to 5.60 mm'], ['readings[2].printed', '5.45 to 5.60 mm'], ['readings[3].printed', '5.45 to 5.60 mm'],
    ]);
  });

  test('is nothing under other conditions', () => {
    const camber = requirement({ characteristic: 'camber', analysis: null, max: '2', unit: 'mm', baseMm: '2000' });
    expect(findings(['3'], [camber], { characteristic: 'camber', baseMm: '5000' })).toEqual([]);
    expect(findings(['3'], [camber], { characteristic: 'camber', baseMm: '2000' })).toHaveLength(1);
  });
});
