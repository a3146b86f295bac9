import { describe, expect, test } from '@jest/globals';
import { aCutOut, aHangOff, aString, recordRef } from '../../test/fixtures/string-lengths.js';
import { LengthModel } from './length-model.js';
import { compareSums, pipeInPlace, pipeMade, stripConsumed } from './reconciliation.js';

const coil = (id: string, lengthMm: number, cropsMm: number, restMm: number) => ({ record: recordRef('coil', id), lengthMm, uLengthMm: 30, cropsMm, restMm });

/** 61 000 mm made, 1 000 cut out, shoe 20 000 below the hang-off. */
const model = new LengthModel(aString({ cutOuts: [aCutOut(30_000, 31_000, 45_000)], hangOff: aHangOff({ uFootageMm: 3 }), scaleRelativeU: 0.0005, weldFootage: [aReading(0), aReading(61_000)] }));

function aReading(mm: number) {
  return { record: recordRef('reading', `${mm}`), atUs: mm, footageMm: mm, readIn: null };
}

const made = pipeMade(model, 61_000);
const inPlace = pipeInPlace(model, { shoeMdMm: 22_500, uShoeMm: 2, atUs: 61_000 });

describe('the three sums', () => {
  test('strip: coils less crops less rests, times the elongation', () => {
    const strip = stripConsumed([coil('a', 40_000, 200, 0), coil('b', 30_000, 100, 8_700)], { ratio: 1.002, u: 0.0004 });
    expect(strip.mm).toBeCloseTo(61_000 * 1.002, 9);
    expect(strip.uMm).toBeCloseTo(Math.hypot(30.06, 30.06, 24.4), 9);
    expect(strip.parts.map(({ mm }) => mm)).toEqual([39_800, 21_200]);
  });

  test('made, by the counter', () => {
    expect(made).toMatchObject({ mm: 61_000, uMm: 30.5 });
  });

  test('in place: every part of it', () => {
    expect(inPlace.parts.map(({ mm }) => mm)).toEqual([2_000, 20_000, 20_000, 18_000, 1_000]);
    expect(inPlace).toMatchObject({ mm: 61_000, uMm: 5 });
  });

  test('agree: no cause is named', () => {
    expect(compareSums([made, inPlace])).toEqual([
      { of: 'pipe made', less: 'pipe in place', mm: 0, uMm: Math.hypot(30.5, 5), isExceeded: false, likelyCauses: [] },
    ]);
  });

  test('disagree: every pair, with the causes that its sign points to', () => {
    const strip = stripConsumed([coil('a', 50_000, 0, 0)], { ratio: 1, u: 0 });
    const [stripLessMade, stripLessPlace, madeLessPlace] = compareSums([strip, made, inPlace]);
    expect(stripLessMade).toMatchObject({ mm: -11_000, isExceeded: true });
    expect(stripLessMade!.likelyCauses).toContain('a coil that was not recorded');
    expect(stripLessMade!.likelyCauses).toContain('counter scale too great');
    expect(stripLessPlace!.likelyCauses).toContain('shoe depth read too deep');
    expect(madeLessPlace!.isExceeded).toBe(false);
    const tooMuch = compareSums([stripConsumed([coil('a', 70_000, 0, 0)], { ratio: 1, u: 0 }), made]);
    expect(tooMuch[0]!.likelyCauses).toContain('counter slip');
  });

  test('in place with a ratio of 0.5: the outer wall took twice its length in pipe', () => {
    const halved = new LengthModel(aString({ defaultRatio: { record: null, lambda: 0.5, u: 0.01 } }));
    const sum = pipeInPlace(halved, { shoeMdMm: 12_500, uShoeMm: 10, atUs: 50_000 });
    expect(sum.parts.map(({ mm }) => mm)).toEqual([2_000, 20_000, 10_000, 18_000, 0]);
    expect(sum.uMm).toBeCloseTo(Math.hypot(30, 400), 9);
  });
});
