import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import fc from 'fast-check';
import pg from 'pg';
import { IntervalSet, type Interval } from '#libs/intervals';
import { seedFromEnvironment } from '../setup/seed.js';
import { rawIntervals, wideRawIntervals } from './intervals.arbitraries.js';

/** The interval algebra against PostgreSQL's own int8multirange, on 10,000 random pairs. */
const CASES = 10_000;
const BATCH = 500;

interface Pair {
  readonly a: readonly Interval[];
  readonly b: readonly Interval[];
  readonly point: number;
}

interface Answers {
  readonly a: string;
  readonly both: string;
  readonly common: string;
  readonly rest: string;
  readonly covers: boolean;
  readonly overlaps: boolean;
  readonly contains: boolean;
}

const asRanges = (intervals: readonly Interval[]): string =>
  `{${intervals.map(({ fromMm, toMm }) => `[${fromMm},${toMm})`).join(',')}}`;

const QUERY = `
  select a::text, (a + b)::text as both, (a * b)::text as common, (a - b)::text as rest,
         a @> b as covers, a && b as overlaps, a @> point as contains
    from unnest($1::text[]::int8multirange[], $2::text[]::int8multirange[], $3::int8[])
         with ordinality as t (a, b, point, place) order by place`;

function ours({ a, b, point }: Pair): Answers {
  const [one, other] = [IntervalSet.from(a), IntervalSet.from(b)];
  return {
    a: one.toMultirange(),
    both: one.union(other).toMultirange(),
    common: one.intersect(other).toMultirange(),
    rest: one.subtract(other).toMultirange(),
    covers: one.covers(other),
    overlaps: one.overlaps(other),
    contains: one.contains(point),
  };
}

describe('interval sets against int8multirange', () => {
  const client = new pg.Client({ connectionString: process.env['TEST_DATABASE_URL'] });
  beforeAll(() => client.connect());
  afterAll(() => client.end());

  test(`${CASES} random pairs: union, intersection, difference, cover, overlap, point, canonical form`, async () => {
    const pair = fc.record({
      a: fc.oneof(rawIntervals(), wideRawIntervals()),
      b: fc.oneof(rawIntervals(), wideRawIntervals()),
      point: fc.integer({ min: -50, max: 200 }),
    });
    let compared = 0;
    await fc.assert(
      fc.asyncProperty(fc.array(pair, { minLength: BATCH, maxLength: BATCH }), async (pairs) => {
        const { rows } = await client.query<Answers>(QUERY, [
          pairs.map(({ a }) => asRanges(a)),
          pairs.map(({ b }) => asRanges(b)),
          pairs.map(({ point }) => point),
        ]);
        expect(rows).toEqual(pairs.map(ours));
        compared += rows.length;
      }),
      { ...seedFromEnvironment(), numRuns: CASES / BATCH, endOnFailure: true },
    );
    expect(compared).toBe(CASES);
  });
});
