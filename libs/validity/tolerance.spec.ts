import { describe, expect, test } from '@jest/globals';
import type { PointReading } from '#libs/validity';
import { greatestFirst, judged } from './tolerance.js';
import { calibration, GUARDED, point, SIMPLE } from './validity.factory.js';

const found = (asFound: readonly PointReading[], rules = SIMPLE) => judged(calibration('2026-01-01', '0', '0', { asFound, rules })).found;

describe('a calibration is judged by its rules', () => {
  test.each([['0.02', 'in'], ['-0.020', 'in'], ['0.0200001', 'out'], ['-0.03', 'out']])('simple acceptance: %s mm within ± 0.02 mm is %s', (deviation, state) => {
    expect(found([point(deviation)])).toBe(state);
  });

  test.each([['0.015', 'in'], ['0.016', 'not-shown'], ['0.02', 'not-shown'], ['0.021', 'out']])('guarded by U = 0.005 mm: %s mm is %s', (deviation, state) => {
    expect(found([point(deviation)], GUARDED)).toBe(state);
  });

  test('a guard band without an uncertainty, and a deviation that cannot be read, show nothing', () => {
    expect(found([point('0', { expandedU: null })], GUARDED)).toBe('not-shown');
    expect(found([point('0,00')])).toBe('not-shown');
  });

  test('all points must conform; one that does not is enough', () => {
    expect(found([point('0'), point('0.01')])).toBe('in');
    expect(found([point('?'), point('0.03'), point('0')])).toBe('out');
  });

  test('not adjusted, it was left as it was found', () => {
    const { left, leftOutside } = judged(calibration('2026-01-01', '0.03', 'not-adjusted'));
    expect(left).toBe('out');
    expect(leftOutside).toMatchObject([{ when: 'as-left', deviation: '0.03' }]);
  });

  test('an as-found that was not taken is its own answer', () => {
    expect(judged(calibration('2026-01-01', 'not-taken', '0.01'))).toMatchObject({ found: 'not-taken', foundOutside: [], left: 'in' });
  });
});

describe('deviations relative to the tolerance', () => {
  const points = [
    point('0.03', { point: 'a' }), point('-0.05', { point: 'b' }), point('0', { point: 'inside' }), point('?', { point: 'c' }),
    point('0.30', { point: 'd', min: '-0.1', max: '0.3' }), point('0.4', { point: 'e', min: '-0.1', max: '0.3' }),
  ];

  test('are counted from the middle in half widths, and those in tolerance are left out', () => {
    const { foundOutside } = judged(calibration('2026-01-01', '0', '0', { asFound: points }));
    expect(foundOutside.map((one) => [one.point, one.timesTolerance])).toEqual([['a', 1.5], ['b', 2.5], ['c', null], ['e', 1.5]]);
  });

  test('come greatest first, what cannot be compared last, in an order of their own', () => {
    const { foundOutside } = judged(calibration('2026-01-01', '0', '0', { asFound: points }));
    expect(greatestFirst(foundOutside).map((one) => one.point)).toEqual(['b', 'a', 'e', 'c']);
    expect(greatestFirst(foundOutside.toReversed()).map((one) => one.point)).toEqual(['b', 'a', 'e', 'c']);
  });
});
