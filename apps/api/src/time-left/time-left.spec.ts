import { describe, expect, test } from '@jest/globals';
import { LengthModel, type StringLengths } from '#libs/length';
import { instantOf, microseconds } from '#libs/persistence';
import { aCutOut, aHangOff, aString } from '../../../../test/fixtures/string-lengths.js';
import { LineKnowledge } from '../line/line-knowledge.js';
import { momentAt, timeLeft, type LineModel, type TimeLeft } from './time-left.js';

const us = (clock: string): number => microseconds(`2026-03-02T${clock}Z`);
const HANG_OFF_MM = 30_000;

type Read = readonly [clock: string, footageMm: number];

/** A line of 30 m from weld point to hang-off that nobody hung off yet, and what its counter said when. */
function line(readings: readonly Read[], changes: Partial<StringLengths> = {}, path = { minMm: HANG_OFF_MM, maxMm: HANG_OFF_MM, uMm: 0 }): LineModel {
  const weldFootage = readings.map(([clock, footageMm], index) => ({ record: { kind: 'counter-reading', id: `r${index}`, version: 1 }, atUs: us(clock), footageMm, readIn: null }));
  const hangOffPath = [{ record: { kind: 'line-setup', id: 's', version: 1 }, validFromUs: 0, pathMm: (path.minMm + path.maxMm) / 2, uPathMm: path.uMm }];
  const lengths = new LengthModel(aString({ hangOff: null, hangOffPath, weldFootage, ...changes }));
  const setups = [{ id: 's', validFrom: '2026-01-01T00:00:00.000000Z', stations: [{ name: 'hang-off', role: 'hang-off' as const, path }] }];
  return { lengths, line: new LineKnowledge({ masterCounter: 'main', periods: [], setups, cutOuts: lengths.lengths.cutOuts }) };
}

const left = (model: LineModel, fromMm: number, clock: string, uMm = 0): TimeLeft => timeLeft(momentAt(model, us(clock)), { fromMm, toMm: fromMm + 100, uMm });

/** 5 m/min: 2.5 m in half a minute; at 08:00 it had made 100 m. */
const FIVE: readonly Read[] = [['07:59:00', 95_000], ['07:59:30', 97_500], ['08:00:00', 100_000]];

describe('metres and minutes to the hang-off', () => {
  test('are 25 m and 5 minutes for a place 5 m past the weld point, at 5 m/min', () => {
    expect(left(line(FIVE), 95_000, '08:00:00')).toEqual({
      at: '2026-03-02T08:00:00.000000Z', state: 'running-out', leftMm: 25_000, plusMinusMm: 0, minutes: '5.0', speedMPerMin: '5.00', readingAgeS: 0, lineSetupId: 's',
      readings: [{ id: 'r1', version: 1, at: instantOf(us('07:59:30')), footageMm: 97_500 }, { id: 'r2', version: 1, at: instantOf(us('08:00:00')), footageMm: 100_000 }],
      because: '25.000 m at 5.00 m/min',
    });
  });

  test('are less by what ran since the last reading: 1 minute is 5 m', () => {
    expect(left(line(FIVE), 95_000, '08:01:00')).toMatchObject({
      state: 'running-out', leftMm: 20_000, minutes: '4.0', readingAgeS: 60, because: '20.000 m at 5.00 m/min; 5.000 m are taken off for the 60 s since the last reading',
    });
    // After 6 minutes it would have passed.
    expect(left(line(FIVE), 95_000, '08:06:00')).toMatchObject({ state: 'running-out', leftMm: 0, minutes: '0.0', readingAgeS: 360 });
  });

  test('are those of the end that gets there first, at the nearest of the range of the path, and never more than there are', () => {
    expect(left(line(FIVE, {}, { minMm: 29_000, maxMm: 31_000, uMm: 0 }), 95_000, '08:00:00')).toMatchObject({ leftMm: 24_000, minutes: '4.8' });
    expect(left(line(FIVE), 94_999, '08:00:00')).toMatchObject({ leftMm: 24_999, minutes: '4.9' });
  });

  test('carry 2 √(u_path² + u_place² + (s path)²): 2 √(3² + 4² + (0.0024 · 5000)²) = 26', () => {
    expect(left(line(FIVE, { scaleRelativeU: 0.0024 }, { minMm: HANG_OFF_MM, maxMm: HANG_OFF_MM, uMm: 3 }), 95_000, '08:00:00', 4)).toMatchObject({ plusMinusMm: 26 });
  });

  test('of strip before the weld point reach on: 2 m before it there are 32 m', () => {
    expect(left(line(FIVE), 102_000, '08:00:00')).toMatchObject({ state: 'running-out', leftMm: 32_000, minutes: '6.4' });
  });

  test('are counted over a cut-out made by then, and not before', () => {
    const cut = { cutOuts: [aCutOut(96_000, 97_000, us('07:59:45'))] };
    expect(left(line(FIVE, cut), 95_000, '08:00:00')).toMatchObject({ leftMm: 26_000 });
    expect(left(line(FIVE, cut), 95_000, '07:59:30')).toMatchObject({ leftMm: 27_500 });
    expect(left(line(FIVE, cut), 96_200, '08:00:00')).toMatchObject({ state: 'cut-out', leftMm: null, minutes: null, because: 'cut out' });
    // What is left of a place that was cut in two begins after the cut.
    expect(timeLeft(momentAt(line(FIVE, cut), us('08:00:00')), { fromMm: 96_500, toMm: 98_000, uMm: 0 })).toMatchObject({ leftMm: 27_000 });
  });

  test('of a moment between two readings are by the line between them, at the speed before', () => {
    const later = line([...FIVE, ['08:02:00', 104_000]]);
    expect(left(later, 95_000, '08:01:00')).toMatchObject({ state: 'running-out', leftMm: 23_000, speedMPerMin: '5.00', minutes: '4.6', readingAgeS: 60 });
  });
});

describe('no minutes', () => {
  test('run out while the line stands, though it ran before', () => {
    const stands = line([...FIVE, ['08:00:30', 100_000], ['08:01:00', 100_001]]);
    expect(left(stands, 95_000, '08:01:00')).toMatchObject({ state: 'standing', leftMm: 24_999, minutes: null, speedMPerMin: '0.00' });
  });

  test('are told while it runs backwards: the place moves away', () => {
    const back = line([...FIVE, ['08:00:30', 98_000]]);
    expect(left(back, 95_000, '08:00:30')).toMatchObject({ state: 'moving-away', leftMm: 27_000, minutes: null, speedMPerMin: '-4.00' });
  });

  test('nor metres are known by a counter that said nothing for more than 10 minutes', () => {
    expect(left(line(FIVE), 95_000, '08:10:00')).toMatchObject({ state: 'running-out', minutes: '0.0', readingAgeS: 600 });
    expect(left(line(FIVE), 95_000, '08:10:01')).toMatchObject({
      state: 'not-known', leftMm: null, minutes: null, speedMPerMin: null, readingAgeS: 601, readings: [],
      because: 'the last counter reading was 10 min old; then 25.000 m were left, and nobody knows how far the line ran since',
    });
  });

  test('are known from one reading; the metres are those of its instant alone', () => {
    const one = line([['07:40:00', 90_000], ['08:00:00', 100_000]]);
    expect(left(one, 95_000, '08:00:00')).toMatchObject({
      state: 'not-known', leftMm: 25_000, minutes: null, because: 'minutes not known: fewer than two recent counter readings, so no speed',
    });
    expect(left(one, 95_000, '08:00:07')).toMatchObject({
      state: 'not-known', leftMm: null, minutes: null, because: 'the only recent counter reading was 7 s old; then 25.000 m were left, and nobody knows how far the line ran since',
    });
  });

  test('are known in a long stretch between two readings; the metres are, as well as such a stretch says', () => {
    // 15 m in 30 min: u = 15,000 / √12 = 4,330.1 mm.
    expect(left(line([...FIVE, ['08:30:00', 115_000]]), 95_000, '08:15:00')).toMatchObject({ state: 'not-known', leftMm: 17_500, plusMinusMm: 8_661, minutes: null });
  });

  test('nor metres without a set-up, a reading, or one by then', () => {
    const { lengths } = line(FIVE);
    const nowhere = new LineKnowledge({ masterCounter: 'main', periods: [], setups: [], cutOuts: [] });
    expect(left({ lengths, line: nowhere }, 95_000, '08:00:00')).toMatchObject({ state: 'not-known', leftMm: null, because: 'no line set-up that was in force says where the hang-off is' });
    expect(left(line([]), 95_000, '08:00:00')).toMatchObject({ state: 'not-known', leftMm: null, because: 'not known: this string has no footage reading' });
    expect(left(line(FIVE), 95_000, '07:00:00')).toMatchObject({ state: 'not-known', leftMm: null, because: expect.stringMatching(/^not known: the first footage reading is at/) });
  });

  test('rest on the last readings alone, of however many', () => {
    const clock = (second: number): string => instantOf(us('00:00:00') + second * 100_000).slice(11, -1);
    const many = Array.from({ length: 200_000 }, (_, second): Read => [clock(second), second / 2]);
    const at = clock(199_999);
    expect(left(line(many), 95_000, at)).toMatchObject({ state: 'running-out', speedMPerMin: '0.30', readings: [{ id: 'r199699' }, { id: 'r199999' }], readingAgeS: 0 });
  });

  test('are left past the hang-off: 0, before the string hangs and after', () => {
    const past = { state: 'past-the-hang-off', leftMm: 0, minutes: '0.0', because: 'past the hang-off' };
    expect(left(line(FIVE), 69_999, '08:00:00')).toMatchObject(past);
    expect(left(line(FIVE, {}, { minMm: 29_000, maxMm: 31_000, uMm: 0 }), 70_500, '08:00:00')).toMatchObject({
      state: 'not-known', leftMm: null, minutes: null, because: 'it may have passed the hang-off already, by the range of its path',
    });
    const hung = line(FIVE, { hangOff: aHangOff({ footageMm: 60_000, atUs: us('07:50:00') }) });
    expect(['50000', '61000', '66000'].map((mm) => left(hung, Number(mm), '08:00:00').state)).toEqual(Array(3).fill('past-the-hang-off'));
    expect(left(hung, 95_000, '08:00:00')).toMatchObject({ leftMm: 25_000, minutes: '5.0' });
  });
});
