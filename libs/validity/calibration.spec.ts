import { describe, expect, test } from '@jest/globals';
import { type Calibration, inOrder } from '#libs/validity';
import { calibration, point } from './validity.factory.js';

describe('calibrations in order of time', () => {
  test('whatever the order of the list and the spelling of the instants', () => {
    const [first, second, third] = [
      calibration('2026-01-01', '0', '0', { instant: '2026-01-01T12:00:00.5Z' }),
      calibration('2026-01-01', '0', '0', { id: 'b', instant: '2026-01-01T12:00:00.51Z' }),
      calibration('2026-01-02', '0', '0'),
    ];
    const sorted = inOrder([third, second, first]);
    expect(sorted.map(({ instant }) => instant)).toEqual(['2026-01-01T12:00:00.500000Z', '2026-01-01T12:00:00.510000Z', '2026-01-02T12:00:00.000000Z']);
  });

  const [CAL, NOON] = ['calibration cal 2026-01-01', '2026-01-01T12:00:00.000000Z'];
  const NO_WIDTH = 'the tolerance at 5.00 mm is not from a lower to an upper limit: 0.02 to 0.02';
  const one = calibration('2026-01-01', '0', '0');
  test.each<[string, Calibration[], Error]>([
    ['one id twice', [one, calibration('2026-01-02', '0', '0', { id: one.id })], new RangeError('two calibrations have the same id')],
    ['one instant twice', [one, { ...one, id: 'b', instant: '2026-01-01T12:00:00.000Z' }], new RangeError(`two calibrations have the same instant: ${NOON}`)],
    ['neither found nor left', [calibration('2026-01-01', 'not-taken', 'not-adjusted')], new RangeError(`${CAL} has neither an as-found nor an as-left`)],
    ['no points found', [{ ...one, asFound: [] }], new RangeError(`${CAL} has an empty list of points`)],
    ['no points left', [{ ...one, asLeft: [] }], new RangeError(`${CAL} has an empty list of points`)],
    ['a tolerance without width', [{ ...one, asLeft: [point('0', { min: '0.02' })] }], new RangeError(`${CAL}: ${NO_WIDTH}`)],
    ['a limit that is no number', [{ ...one, asFound: [point('0', { max: '0,02' })] }], new SyntaxError('not a plain decimal: "0,02"')],
    ['a due day that is none', [{ ...one, dueOn: '2026-02-30' }], new RangeError('not a day: "2026-02-30"')],
    ['an offset that is none', [{ ...one, offsetMinutes: 900 }], new RangeError('not an offset from UTC in whole minutes, -840 to 840: 900')],
    ['an instant that is none', [{ ...one, instant: '2026-01-01' }], new RangeError('not an instant in UTC: "2026-01-01"')],
  ])('%s is refused', (_what, list, error) => {
    expect(() => inOrder(list)).toThrow(error);
  });
});
