import { describe, expect, test } from '@jest/globals';
import { type Calibration, doubtfulSpans, unclosedSpans } from '#libs/validity';
import { calibration, GUARDED, point } from './validity.factory.js';

const at = (day: string) => `${day}T12:00:00.000000Z`;
const JAN = '2026-01-10';
const FEB = '2026-02-10';
const MAR = '2026-03-10';
const APR = '2026-04-10';

const spans = (...calibrations: Calibration[]) => doubtfulSpans(calibrations).map(({ from, to, lastInTolerance }) => ({ from, to, lastInTolerance }));

describe('spans of use in doubt', () => {
  test('none while all is found in tolerance', () => {
    expect(doubtfulSpans([])).toEqual([]);
    expect(spans(calibration(JAN, 'not-taken', '0'), calibration(FEB, '0.02', 'not-adjusted'), calibration(MAR, '-0.01', '0'))).toEqual([]);
  });

  test('found out of tolerance: from the last calibration that left it in, to the adjustment', () => {
    const list = [calibration(JAN, 'not-taken', '0'), calibration(FEB, '0.01', '0'), calibration(MAR, '0.035', '0.001')];
    const expected = {
      from: at(FEB), to: at(MAR), foundBy: `cal ${MAR}`, found: 'out', lastInTolerance: at(FEB),
      deviations: [{
        calibration: `cal ${MAR}`, when: 'as-found', point: '5.00 mm', deviation: '0.035', min: '-0.02', max: '0.02', unit: 'mm', timesTolerance: 1.75,
      }],
    };
    expect(doubtfulSpans(list)).toEqual([expected]);
    expect(doubtfulSpans(list.toReversed())).toEqual([expected]);
  });

  test('an as-found that was not taken finds nothing, but a good as-left after it begins anew', () => {
    const list = [calibration(JAN, '0', '0'), calibration(FEB, 'not-taken', '0'), calibration(MAR, '0.03', '0')];
    expect(spans(...list)).toEqual([{ from: at(FEB), to: at(MAR), lastInTolerance: at(FEB) }]);
    expect(unclosedSpans(list)).toEqual([{ from: at(JAN), to: at(FEB) }]);
  });

  test('found in tolerance and left out of it: what was before stays clear', () => {
    const list = [calibration(JAN, '0', '0'), calibration(FEB, '0.01', '0.05'), calibration(MAR, '0.03', '0')];
    expect(spans(...list)).toEqual([{ from: at(FEB), to: at(MAR), lastInTolerance: at(FEB) }]);
    expect(doubtfulSpans(list)[0]!.deviations.map(({ when, deviation }) => [when, deviation])).toEqual([['as-left', '0.05'], ['as-found', '0.03']]);
  });

  test('neither found nor left in tolerance in between: the doubt reaches further back', () => {
    expect(spans(calibration(JAN, '0', '0'), calibration(FEB, 'not-taken', '0.05'), calibration(MAR, '0.03', '0'))).toEqual([
      { from: at(JAN), to: at(MAR), lastInTolerance: at(JAN) },
    ]);
  });

  test('found out twice without being put right: two spans side by side, and when it was last good', () => {
    expect(spans(calibration(JAN, '0', '0'), calibration(FEB, '0.03', 'not-adjusted'), calibration(MAR, '0.04', '0'), calibration(APR, '0', '0'))).toEqual([
      { from: at(JAN), to: at(FEB), lastInTolerance: at(JAN) },
      { from: at(FEB), to: at(MAR), lastInTolerance: at(JAN) },
    ]);
  });

  test('found out at the first calibration: every use before is in doubt', () => {
    expect(spans(calibration(JAN, '0.03', '0'))).toEqual([{ from: null, to: at(JAN), lastInTolerance: null }]);
    expect(unclosedSpans([calibration(JAN, 'not-taken', '0')])).toEqual([{ from: null, to: at(JAN) }]);
  });

  test('not shown to be in tolerance is in doubt too, and says so', () => {
    const guarded = calibration(FEB, '0', '0', { rules: GUARDED, asFound: [point('0.018')] });
    expect(doubtfulSpans([calibration(JAN, '0', '0'), guarded])).toMatchObject([{ found: 'not-shown', deviations: [{ timesTolerance: 0.9 }] }]);
  });
});
