import { describe, expect, test } from '@jest/globals';
import { type Calibration, instrumentAt, type Moment } from '#libs/validity';
import { calibration, GUARDED, point } from './validity.factory.js';

const JAN = '2026-01-10';
const MAR = '2026-03-10';
const use = (day: string, more: Partial<Moment> = {}): Moment => ({ instant: `${day}T08:00:00Z`, offsetMinutes: 0, ...more });
const statesOf = (calibrations: Calibration[], event: Moment) => instrumentAt(calibrations, event).reasons.map(({ state }) => state);

describe('an instrument at an event', () => {
  test('good, not yet closed by a later calibration', () => {
    expect(instrumentAt([calibration(JAN, 'not-taken', '0.01', { dueOn: '2027-01-10' })], use('2026-02-01'))).toEqual({
      state: 'good', reasons: [], calibration: `cal ${JAN}`, dueOn: '2027-01-10', closedBy: 'none-yet', localDay: '2026-02-01',
      because: 'good on 2026-02-01, local day at UTC+00:00: calibrated at 2026-01-10T12:00:00.000000Z, due on 2027-01-10; '
        + 'the span is not closed yet: no later calibration',
    });
  });

  test('good and shown so by the next as-found', () => {
    const answer = instrumentAt([calibration(JAN, '0', '0'), calibration(MAR, '0.01', '0')], use('2026-02-01'));
    expect(answer).toMatchObject({ state: 'good', closedBy: 'in', dueOn: null });
    expect(answer.because).toMatch(/, no due day stated; found in tolerance at the next calibration$/);
  });

  test('an as-found that was not taken neither clears nor condemns', () => {
    const answer = instrumentAt([calibration(JAN, '0', '0'), calibration(MAR, 'not-taken', '0')], use('2026-02-01'));
    expect(answer).toMatchObject({ state: 'good', closedBy: 'not-taken' });
    expect(answer.because).toMatch(/; the span is not closed by an as-found: at the next calibration none was taken$/);
  });

  test('not calibrated before the first; at its very instant it is', () => {
    expect(instrumentAt([], use(JAN))).toMatchObject({ state: 'not-calibrated', calibration: null, closedBy: 'none-yet' });
    const list = [calibration(JAN, 'not-taken', '0')];
    expect(statesOf(list, use(JAN, { instant: '2026-01-10T11:59:59.999999Z' }))).toEqual(['not-calibrated']);
    expect(statesOf(list, use(JAN, { instant: '2026-01-10T12:00:00Z' }))).toEqual([]);
  });

  test('overdue from the local day after the due day', () => {
    const list = [calibration(JAN, '0', '0', { dueOn: MAR })];
    expect(statesOf(list, use(MAR, { instant: '2026-03-11T04:59:59Z', offsetMinutes: -300 }))).toEqual([]);
    expect(statesOf(list, use(MAR, { instant: '2026-03-11T05:00:00Z', offsetMinutes: -300 }))).toEqual(['overdue']);
    expect(instrumentAt(list, use('2026-03-11')).because).toContain('not good on 2026-03-11, local day at UTC+00:00: overdue: calibration was due on 2026-03-10');
  });

  test('found out later: in doubt since the last in-tolerance state, known only since then', () => {
    const before = [calibration(JAN, '0', '0')];
    const after = [...before, calibration(MAR, '0.03', '0')];
    expect(instrumentAt(before, use('2026-02-01')).state).toBe('good');
    const answer = instrumentAt(after, use('2026-02-01'));
    expect(answer).toMatchObject({ state: 'found-out', closedBy: 'out', reasons: [{ knownSince: '2026-03-10T12:00:00.000000Z' }] });
    expect(answer.reasons[0]!.words).toBe('found out of tolerance at 2026-03-10T12:00:00.000000Z, known only since then: as-found 0.03 mm at 5.00 mm, '
      + 'allowed -0.02 to 0.02; every use from 2026-01-10T12:00:00.000000Z up to then is in doubt');
    expect(statesOf(after, use(MAR, { instant: '2026-03-10T11:59:59.999999Z' }))).toEqual(['found-out']);
    expect(statesOf(after, use(MAR, { instant: '2026-03-10T12:00:00Z' }))).toEqual([]);
  });

  test('left out of tolerance, or not shown to be in it', () => {
    const out = instrumentAt([calibration(JAN, '0', '0.03')], use('2026-02-01'));
    expect(out).toMatchObject({ state: 'left-out', reasons: [{ knownSince: null }] });
    expect(out.reasons[0]!.words).toBe('left out of tolerance at 2026-01-10T12:00:00.000000Z: as-left 0.03 mm at 5.00 mm, allowed -0.02 to 0.02');
    const unproved = calibration(JAN, '0', '0', { rules: GUARDED, asLeft: [point('0.018')] });
    expect(instrumentAt([unproved], use('2026-02-01')).reasons[0]!.words).toMatch(/^left not shown to be in tolerance at /);
  });

  test('every reason, gravest first', () => {
    const list = [calibration(JAN, '0', '0.03', { dueOn: '2026-01-31' }), calibration(MAR, '0.04', '0')];
    expect(statesOf(list, use('2026-02-01'))).toEqual(['left-out', 'found-out', 'overdue']);
    expect(statesOf(list, use('2026-01-01'))).toEqual(['not-calibrated']);
    const answer = instrumentAt([calibration(JAN, '0.03', '0')], use('2026-01-01'));
    expect(answer.reasons.map(({ state }) => state)).toEqual(['not-calibrated', 'found-out']);
    expect(answer.because).toContain('every use before up to then is in doubt');
  });
});
