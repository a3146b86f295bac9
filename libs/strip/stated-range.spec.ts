import { describe, expect, test } from '@jest/globals';
import { decimal, ratio } from '#libs/exact';
import { value } from './evaluation.factory.js';
import { hull, statedRange } from './stated-range.js';

const known = (low: string, high: string | null) => ({ low: decimal(low), high: high === null ? null : decimal(high), isDoubtful: false });
const ANYTHING = { low: ratio(0n), high: null, isDoubtful: true };

describe('statedRange', () => {
  test.each([
    ['a plain value', value('C', '0.085'), known('0.085', '0.085')],
    ['parts per million', value('B', '5', { unit: 'ppm' }), known('0.0005', '0.0005')],
    ['a column printed times 1000', value('S', '4', { multiplier: '1000' }), known('0.004', '0.004')],
    ['below a limit of detection: from 0', value('B', '<0.0005'), known('0', '0.0005')],
    ['at least: without an upper end', value('Cr', '>0.1'), known('0.1', null)],
  ])('%s', (_what, given, range) => {
    expect(statedRange(given, '%')).toEqual(range);
  });

  test('another unit is converted exactly: 65 ksi', () => {
    expect(statedRange(value('ReH', '65', { unit: 'ksi' }), 'psi')).toEqual(known('65000', '65000'));
  });

  test.each([
    ['in doubt', value('C', '0.085', { doubt: 'the two keyings differ' })], ['not readable', value('C', '0,085')],
    ['of another dimension', value('C', '0.085', { unit: 'mm' })], ['in a scale of its own', value('C', '200', { unit: 'HV10' })],
    ['below 0', value('C', '-0.01')], ['printed with an uncertainty that is none', value('C', '0.085', { expandedU: '-1' })],
  ])('%s it might be anything', (_what, given) => {
    expect(statedRange(given, '%')).toEqual(ANYTHING);
  });
});

describe('hull', () => {
  test('from the least to the most, whichever comes first', () => {
    const [one, other] = [known('0.10', '0.12'), known('0.11', '0.14')];
    expect(hull(one, other)).toEqual(known('0.10', '0.14'));
    expect(hull(other, one)).toEqual(known('0.10', '0.14'));
  });

  test('has no upper end where one has none, and doubt stays', () => {
    expect(hull(known('0.1', '0.1'), known('0.2', null))).toEqual(known('0.1', null));
    expect(hull(known('0.1', '0.1'), ANYTHING)).toEqual(ANYTHING);
  });
});
