import { expect, test } from '@jest/globals';
import { type Calibration, leftOutSpans } from '#libs/validity';
import { calibration } from './validity.factory.js';

const at = (day: string) => `${day}T12:00:00.000000Z`;
const [JAN, FEB, MAR] = ['2026-01-10', '2026-02-10', '2026-03-10'] as const;
const spans = (...list: Calibration[]) => leftOutSpans(list).map(({ from, to, leftBy, deviations }) => [from, to, leftBy, deviations.map(({ when, deviation }) => `${when} ${deviation}`)]);

test('from a calibration that left it out of tolerance on, to the next one or without end', () => {
  expect(spans(calibration(JAN, '0', '0'))).toEqual([]);
  expect(spans(calibration(JAN, '0', '0.05'))).toEqual([[at(JAN), null, `cal ${JAN}`, ['as-left 0.05']]]);
  expect(spans(calibration(FEB, 'not-taken', '0'), calibration(JAN, '0', '0.05'))).toEqual([[at(JAN), at(FEB), `cal ${JAN}`, ['as-left 0.05']]]);
});

test('what the next one found out is a doubtful span already', () => {
  expect(spans(calibration(JAN, '0', '0.05'), calibration(FEB, '0.04', '0'), calibration(MAR, '0', '0'))).toEqual([]);
  // Found out, and not put right: from then on.
  expect(spans(calibration(JAN, '0', '0'), calibration(FEB, '0.04', 'not-adjusted'))).toEqual([[at(FEB), null, `cal ${FEB}`, ['as-left 0.04']]]);
});
