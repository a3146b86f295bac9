import { describe, expect, test } from '@jest/globals';
import { LengthModel, type StringLengths } from '#libs/length';
import { microseconds } from '#libs/persistence';
import type { CounterReading } from '../line/counter-reading.entity.js';
import { locationAt, locationNow, placesOn, standingOf } from './standing.js';

const AT = { first: '2026-03-02T06:00:00Z', hangOff: '2026-03-02T08:00:00Z', found: '2026-03-02T11:00:00Z', last: '2026-03-02T16:00:00Z' };
const record = (kind: string) => ({ kind, id: kind, version: 1 });
const weld = (at: string, footageMm: number) => ({ record: record('counter-reading'), atUs: microseconds(at), footageMm, readIn: null });
const reading = (observedAt: string): CounterReading => ({ observedAt }) as CounterReading;

/** λ 1 and no path on the line: 100 m hang on each wall when 201 m are made. A metre at 20 m was cut out late. */
const lengths: StringLengths = {
  cutOuts: [{ record: record('cut-out'), fromMm: 20_000, toMm: 21_000, atUs: microseconds(AT.found) + 1 }],
  hangOff: { record: record('hang-off'), footageMm: 1_000, mdMm: 0, uFootageMm: 0, uMdMm: 0, atUs: microseconds(AT.hangOff) },
  hangOffPath: [{ record: record('line-setup'), validFromUs: 0, pathMm: 0, uPathMm: 0 }],
  defaultRatio: { record: null, lambda: 1, u: 0 },
  shoeTies: [],
  weldFootage: [weld(AT.first, 0), weld(AT.found, 30_000), weld(AT.last, 202_000)],
  scaleRelativeU: 0,
  kappa: null,
};
const readings = [AT.first, AT.found, AT.last].map(reading);
const standing = standingOf({ lengths: new LengthModel(lengths), readings });

describe('where a string stands', () => {
  test('both walls meet at the shoe of the last reading', () => {
    expect(standing).toMatchObject({ at: AT.last, unknown: null, walls: { shoeMdMm: 100_000 } });
  });

  test('a stretch around a cut-out has two places, each with its own uncertainty grown in', () => {
    const places = placesOn(standing.walls!.outer, { fromMm: 19_000, toMm: 23_000 }, 40);
    expect(places.map(({ depth }) => depth)).toEqual([{ fromMm: 18_000, toMm: 19_000 }, { fromMm: 19_000, toMm: 21_000 }]);
    expect(places.map(({ uncertaintyMm }) => uncertaintyMm)).toEqual([80, 80]);
    expect(placesOn(standing.walls!.inner, { fromMm: 19_000, toMm: 23_000 }, 40)).toEqual([]);
  });

  test.each([
    [{ fromMm: 40_000, toMm: 41_000 }, AT.found, 'not made yet, 10.000 m still to come'],
    [{ fromMm: 0, toMm: 500 }, AT.last, 'lead end, 1.000 m above the hang-off'],
    [{ fromMm: 20_000, toMm: 20_500 }, AT.last, 'cut out of the string'],
    [{ fromMm: 40_000, toMm: 41_000 }, AT.last, 'outer wall, measured depth 38.000 m ± 0.000 m (k = 2)'],
    [{ fromMm: 20_000, toMm: 40_000 }, AT.last, 'begins: cut out of the string; ends: outer wall, measured depth 37.999 m ± 0.000 m (k = 2)'],
    [{ fromMm: 1, toMm: 2 }, AT.first, 'not made yet, 0.001 m still to come'],
    [{ fromMm: 1, toMm: 2 }, '2026-03-01T00:00:00Z', 'not known: the first counter reading is later'],
  ])('%j at %s: %s', (interval, at, words) => {
    expect(locationAt(standing.lengths, interval, at)).toBe(words);
  });

  test('the last reading is named beside where it is now', () => {
    expect(locationNow(standing, { fromMm: 20_000, toMm: 20_500 })).toBe('cut out of the string (by the last counter reading, 2026-03-02 16:00:00 UTC)');
  });

  test('without a hang-off or a reading, words say why no depth is known', () => {
    const unhung = standingOf({ lengths: new LengthModel({ ...lengths, hangOff: null }), readings });
    expect(unhung).toMatchObject({ walls: null, unknown: 'the string has not been hung off yet' });
    const unread = standingOf({ lengths: new LengthModel({ ...lengths, weldFootage: [] }), readings: [] });
    expect(unread).toMatchObject({ at: null, walls: null, unknown: 'the string has no counter reading yet' });
    expect(locationNow(unread, { fromMm: 0, toMm: 1 })).toBe('not known: the string has no counter reading yet');
  });
});
