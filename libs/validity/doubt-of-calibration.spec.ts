import { describe, expect, test } from '@jest/globals';
import { doubtOfCalibration, isWithinSpan, spansRestingOn, type Calibration } from '#libs/validity';
import { calibration } from './validity.factory.js';

const at = (day: string) => `${day}T12:00:00.000000Z`;
const JAN = '2026-01-10';
const FEB = '2026-02-10';
const MAR = '2026-03-10';
const APR = '2026-04-10';
const doubt = (of: string, ...list: Calibration[]) =>
  doubtOfCalibration(list, `cal ${of}`).map(({ from, to, reason, isCertain }) => [from, to, reason, isCertain]);

describe('what a calibration puts in doubt', () => {
  test('nothing, when it found and left the instrument in tolerance', () => {
    expect(doubt(FEB, calibration(JAN, '0', '0'), calibration(FEB, '0.01', '0'))).toEqual([]);
  });

  test('found out: back to the last in-tolerance state, and no further on than itself', () => {
    const list = [calibration(JAN, '0', '0'), calibration(FEB, '0.035', '0.001'), calibration(MAR, '0', '0')];
    expect(doubt(FEB, ...list)).toEqual([[at(JAN), at(FEB), 'found-out', true]]);
    expect(doubt(FEB, ...list.toReversed())).toEqual([[at(JAN), at(FEB), 'found-out', true]]);
    expect(doubt(MAR, ...list)).toEqual([]);
  });

  test('as-found not taken: back to the one before, possibly', () => {
    expect(doubt(FEB, calibration(JAN, '0', '0'), calibration(FEB, 'not-taken', '0'))).toEqual([[at(JAN), at(FEB), 'not-closed', false]]);
    expect(doubt(JAN, calibration(JAN, 'not-taken', '0'))).toEqual([[null, at(JAN), 'not-closed', false]]);
  });

  test('found out and not put right: before and after, to the next calibration or without end', () => {
    const list = [calibration(JAN, '0', '0'), calibration(FEB, '0.03', 'not-adjusted')];
    expect(doubt(FEB, ...list)).toEqual([[at(JAN), at(FEB), 'found-out', true], [at(FEB), null, 'left-out', true]]);
    expect(doubt(FEB, ...list, calibration(MAR, '0', '0'))).toEqual([[at(JAN), at(FEB), 'found-out', true], [at(FEB), at(MAR), 'left-out', true]]);
  });

  test('of no such calibration is refused', () => {
    expect(() => doubtOfCalibration([], 'cal x')).toThrow(new RangeError('no calibration cal x'));
  });
});

describe('what rests on some calibrations', () => {
  const list = [calibration(JAN, 'not-taken', '0'), calibration(FEB, '0', '0'), calibration(MAR, '0', '0'), calibration(APR, '0', '0')];
  const spans = (...days: string[]) => spansRestingOn(list, (id) => days.some((day) => id === `cal ${day}`)).map(({ from, to }) => [from, to]);

  test('from it to the next, and back to the one before where an as-found was taken', () => {
    expect(spans(JAN)).toEqual([[at(JAN), at(FEB)]]);
    expect(spans(MAR)).toEqual([[at(FEB), at(APR)]]);
    expect(spans(APR)).toEqual([[at(MAR), null]]);
    expect(spans()).toEqual([]);
  });

  test('spans that meet or overlap are one', () => {
    expect(spans(JAN, MAR)).toEqual([[at(JAN), at(APR)]]);
    expect(spans(JAN, APR)).toEqual([[at(JAN), at(FEB)], [at(MAR), null]]);
  });

  test('an instant is in a span from its beginning on, and not at its end', () => {
    const span = { from: at(JAN), to: at(FEB) };
    expect([at(JAN), '2026-02-10T11:59:59.999999Z', at(FEB), '2026-01-10T11:59:59.999999Z'].map((instant) => isWithinSpan(span, instant))).toEqual([true, true, false, false]);
    expect([isWithinSpan({ from: null, to: at(FEB) }, at(JAN)), isWithinSpan({ from: at(JAN), to: null }, at(APR))]).toEqual([true, true]);
  });
});
