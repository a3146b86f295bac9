import { afterAll, beforeAll, expect, test } from '@jest/globals';
import fc from 'fast-check';
import pg from 'pg';
import { likeNumber } from '#libs/strip';
import { seedFromEnvironment } from '../setup/seed.js';
import { cloneTemplate, databaseUrl, dropDatabase } from '../setup/template-database.js';

/** Likenesses that numbers of a sequence do not have among each other: by these the database finds near numbers. */
const FOUND_BY_KEY: ReadonlySet<string> = new Set([
  'written differently', 'letters and digits that look alike', 'a hyphen, space or slash lost', 'a zero lost',
]);
const CASES = 5000;

const PARTS = ['LM', 'H', '-', '/', ' ', '\u2013', '\uff2c', '\u00df', '0', '00', 'O', '1', 'I', 'l', '5', 'S', '8', 'b', '2', 'Z', '3', '47'];
const number = fc.array(fc.constantFrom(...PARTS), { minLength: 1, maxLength: 8 });

/** A number, and one that a slip might have made of it: a part lost, doubled, or taken for another one. */
const pair = fc.record({ parts: number, at: fc.nat(), slip: fc.constantFrom('lost', 'doubled', 'taken', 'none'), other: fc.constantFrom(...PARTS) })
  .map(({ parts, at, slip, other }): [string, string] => {
    const place = at % parts.length;
    const there = parts[place] ?? '';
    const instead = { lost: [], doubled: [there, there], taken: [other], none: [there.toLowerCase()] }[slip];
    return [parts.join(''), [...parts.slice(0, place), ...instead, ...parts.slice(place + 1)].join('')];
  });

let name: string;
let client: pg.Client;
beforeAll(async () => {
  name = await cloneTemplate();
  client = new pg.Client({ connectionString: databaseUrl(name) });
  await client.connect();
});
afterAll(async () => {
  await client.end();
  await dropDatabase(name);
});

test(`of ${CASES} pairs, those that the library would tell as near have one key in the database`, async () => {
  const pairs = fc.sample(pair, { numRuns: CASES, ...seedFromEnvironment() });
  const near = pairs.filter(([one, other]) => {
    const like = likeNumber(one, other);
    return like.alike && FOUND_BY_KEY.has(like.because);
  });
  const { rows } = await client.query<{ one: string; other: string }>(
    'select * from unnest($1::text[], $2::text[]) as near(one, other) where near_number_key(one) is distinct from near_number_key(other)',
    [near.map(([one]) => one), near.map(([, other]) => other)],
  );
  expect(rows).toEqual([]);
  expect(near.length).toBeGreaterThan(CASES / 20);
});

test('other numbers have other keys', async () => {
  const others = [['LM-102', 'LM-103'], ['H40711', 'H40171'], ['A12', 'B12'], ['LM-02', 'LN-02'], ['12', '122']] as const;
  const { rows } = await client.query('select 1 from unnest($1::text[], $2::text[]) as pair(one, other) where near_number_key(one) = near_number_key(other)', [
    others.map(([one]) => one), others.map(([, other]) => other),
  ]);
  expect(rows).toEqual([]);
});
