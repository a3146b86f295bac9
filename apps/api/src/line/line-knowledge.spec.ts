import { describe, expect, test } from '@jest/globals';
import { LengthError, type CutOut } from '#libs/length';
import { microseconds } from '#libs/persistence';
import { Refused } from '../http/problem.js';
import type { GivenPlace } from './given-place.js';
import { decimalMm, LineKnowledge, type LineFacts, type TimedPeriod, type TimedSetup } from './line-knowledge.js';

const at = (clock: string): string => `2026-03-02T${clock}:00Z`;
const us = (clock: string): number => microseconds(at(clock));

const period = (id: string, from: string, until: string | null, changes: Partial<TimedPeriod> = {}): TimedPeriod => ({
  record: { kind: 'counter-period', id, version: 1 },
  counter: 'main',
  during: { from: at(from), until: until === null ? null : at(until) },
  startReading: 0,
  start: { kind: 'established', footageMm: 0 },
  scaleMmPerCount: 1,
  scaleRelativeU: 0.0005,
  ...changes,
});

const gaugeAt = (id: string, from: string, pathMm: number): TimedSetup => ({
  id,
  validFrom: at(from),
  stations: [
    { name: 'strip splice', role: null, path: { minMm: -14_000, maxMm: -10_000, uMm: 5 } },
    { name: 'wall gauge', role: null, path: { minMm: pathMm, maxMm: pathMm, uMm: 3 } },
    { name: 'hang-off', role: 'hang-off', path: { minMm: 18_000, maxMm: 18_000, uMm: 10 } },
  ],
});

const cut = (id: string, clock: string, fromMm: number, toMm: number): CutOut => ({
  record: { kind: 'cut-out', id, version: 1 }, atUs: us(clock), fromMm, toMm,
});

const line = (facts: Partial<LineFacts> = {}): LineKnowledge =>
  new LineKnowledge({ masterCounter: 'main', periods: [period('p1', '06:00', null)], setups: [gaugeAt('s1', '05:30', 6_200)], cutOuts: [], ...facts });

/** The field that a refusal names. */
function fieldRefused(work: () => unknown): string | undefined {
  try {
    work();
  } catch (error) {
    if (error instanceof Refused) return error.errors[0]?.field;
    throw error;
  }
  return undefined;
}

describe('counter periods', () => {
  const two = line({
    periods: [
      period('p2', '12:00', null, { startReading: 500, start: { kind: 'continues', previousEndReading: 60_000 } }),
      period('p1', '06:00', '12:00', { scaleMmPerCount: 1.01 }),
      period('exit', '06:00', null, { counter: 'exit', start: { kind: 'established', footageMm: 70 } }),
    ],
  });

  test('are chained by time, each counter for itself, in whatever order they come', () => {
    expect(two.periodById('p2')?.startFootageMm).toBe(60_600);
    expect(two.periodById('exit')?.startFootageMm).toBe(70);
    expect(two.periodById('none')).toBeNull();
  });

  test('hold from their beginning to just before their end', () => {
    expect(two.periodAt('main', us('06:00') - 1)).toBeNull();
    expect(two.periodAt('main', us('12:00') - 1)?.record.id).toBe('p1');
    expect(two.periodAt('main', us('12:00'))?.record.id).toBe('p2');
  });

  test('the one before an instant began before it', () => {
    expect(two.periodBefore('main', us('06:00'))).toBeNull();
    expect(two.periodBefore('main', us('12:00'))?.record.id).toBe('p1');
    expect(two.periodBefore('main', us('12:00') + 1)?.record.id).toBe('p2');
  });

  test('one more, or another in the place of one, moves those that continue it', () => {
    const corrected = two.withPeriod(period('p1', '06:00', '12:00', { scaleMmPerCount: 1.005 }));
    expect(corrected.periodById('p2')?.startFootageMm).toBeCloseTo(60_300, 6);
    expect(two.periodById('p2')?.startFootageMm).toBe(60_600);
    const orphan = period('p0', '05:00', '06:00', { start: { kind: 'continues', previousEndReading: 1 } });
    expect(() => two.withPeriod(orphan)).toThrow(LengthError);
  });
});

describe('a place given', () => {
  const placeOf = (given: GivenPlace, clock = '09:00', known = line()): number => known.footage('from', given, at(clock)).mm;

  test('by a footage rests on nothing', () => {
    expect(line({ periods: [], setups: [] }).footage('from', { footageMm: 12, uMm: '3' }, at('09:00')))
      .toEqual({ mm: 12, uMm: 3, predicted: false, restsOn: [] });
  });

  test('by a reading at a station rests on the period and the set-up of its time', () => {
    const known = line({ setups: [gaugeAt('s2', '10:00', 6_400), gaugeAt('s1', '05:30', 6_200)] });
    expect(known.footage('from', { counterReading: '30000', station: 'wall gauge', uMm: '4' }, at('09:00'))).toEqual({
      mm: 23_800, uMm: 5, predicted: false, restsOn: [{ kind: 'counter-period', id: 'p1' }, { kind: 'line-setup', id: 's1' }],
    });
    expect(placeOf({ counterReading: '30000', station: 'wall gauge' }, '10:00', known)).toBe(23_600);
  });

  test('upstream of the weld point is predicted, and as uncertain as the strip stored', () => {
    const seen = line().footage('from', { counterReading: '30000', station: 'strip splice' }, at('09:00'));
    expect(seen).toMatchObject({ mm: 42_000, predicted: true });
    // A rectangular distribution 4 m wide has the standard deviation 4 m / √12 (GUM 4.3.7).
    expect(seen.uMm).toBeCloseTo(Math.hypot(4000 / Math.sqrt(12), 5), 9);
  });

  test('downstream of a cut-out made by then counts the pipe removed', () => {
    const known = line({ cutOuts: [cut('c1', '08:00', 26_000, 27_000)] });
    const gauge = { counterReading: '30000', station: 'wall gauge' };
    expect(placeOf(gauge, '07:59', known)).toBe(23_800);
    expect(placeOf(gauge, '08:00', known)).toBe(22_800);
    expect(placeOf(gauge, '08:00', known.beforeCutOut(at('08:00')))).toBe(23_800);
    expect(placeOf(gauge, '08:00', known.withCutOut(cut('c1', '08:00', 26_000, 26_500)))).toBe(23_300);
  });

  test.each<[string, GivenPlace]>([
    ['from', {}],
    ['from.counterReading', { footageMm: 1, counterReading: '1' }],
    ['from.station', { footageMm: 1, station: 'wall gauge' }],
    ['from.station', { counterReading: '1', station: 'cutter' }],
    ['from.counterReading', { counterReading: '1', counter: 'exit' }],
  ])('is refused at %s for %j', (field, given) => {
    expect(fieldRefused(() => placeOf(given))).toBe(field);
  });

  test('before any period or set-up is refused', () => {
    expect(fieldRefused(() => placeOf({ counterReading: '1' }, '05:00'))).toBe('from.counterReading');
    expect(fieldRefused(() => placeOf({ counterReading: '1', station: 'wall gauge' }, '09:00', line({ setups: [] })))).toBe('from.station');
  });
});

describe('an interval given', () => {
  test('is half-open; a single place is one millimetre long', () => {
    const [from, to] = [{ footageMm: 100 }, { footageMm: 250, uMm: '2' }];
    expect(line().placed({ from, to }, at('09:00'))).toMatchObject({ span: { fromMm: 100, toMm: 250 }, fromUMm: '0', toUMm: '2' });
    expect(line().placed({ from: to, to: null }, at('09:00'))).toMatchObject({ span: { fromMm: 250, toMm: 251 }, toUMm: '2' });
  });

  test('names each record that it rests on once', () => {
    const given = { from: { counterReading: '100' }, to: { counterReading: '200' } };
    expect(line().placed(given, at('09:00')).restsOn).toEqual([{ kind: 'counter-period', id: 'p1' }]);
  });

  test.each([
    ['to', { footageMm: 5 }, { footageMm: 5 }],
    ['to', { footageMm: 5 }, { footageMm: 4 }],
    ['from', { counterReading: '100', station: 'wall gauge' }, null],
  ])('is refused at %s when it is %j to %j', (field, from, to) => {
    expect(fieldRefused(() => line().placed({ from, to }, at('09:00')))).toBe(field);
  });
});

describe('the way to the hang-off', () => {
  test('is that of the set-up of the time, and gives the material there', () => {
    const known = line({ cutOuts: [cut('c1', '08:00', 26_000, 27_000)] });
    expect(known.hangOffPathAt(us('05:29'))).toBeNull();
    expect(known.hangOffPathAt(us('05:30'))).toEqual({ minMm: 18_000, maxMm: 18_000, uMm: 10 });
    expect(known.materialAtHangOff(40_000, us('05:00'))).toBeNull();
    expect(known.materialAtHangOff(40_000, us('07:00'))).toBe(22_000);
    expect(known.materialAtHangOff(40_000, us('08:00'))).toBe(21_000);
    expect(known.netMm(40_000, us('08:00'))).toBe(39_000);
  });
});

test('cut-outs that remove the same pipe contradict one another, once they are asked for', () => {
  const known = line({ cutOuts: [cut('c1', '08:00', 100, 200), cut('c2', '09:00', 199, 300)] });
  expect(known.beforeCutOut(at('09:00')).netMm(300, us('10:00'))).toBe(200);
  expect(() => known.netMm(300, us('10:00'))).toThrow(LengthError);
});

test('a computed length is kept to a micrometre', () => {
  expect([decimalMm(60_600.00000001), decimalMm(0.1 + 0.2), decimalMm(1 / 3)]).toEqual(['60600', '0.3', '0.333']);
});
