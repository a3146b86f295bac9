import { subscribe, unsubscribe } from 'node:diagnostics_channel';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import type { FastifyInstance } from 'fastify';
import { v7 as uuidv7 } from 'uuid';
import { startTestApi, type Answer, type TestApi } from '../setup/api.js';
import { answerFaults, badEntry, Dice, drawnFaults, sendBadEntries, type BadEntry, type EntryKind, type Fields } from '../setup/bad-entries.js';
import { CHART_ENTRIES } from '../setup/bad-entries.charts.js';
import { HOLD_ENTRIES } from '../setup/bad-entries.holds.js';
import { INDICATION_ENTRIES } from '../setup/bad-entries.indications.js';
import { INSPECTION_ENTRIES } from '../setup/bad-entries.inspection.js';
import { INSTRUMENT_ENTRIES } from '../setup/bad-entries.instruments.js';
import { PIPE_ENTRIES } from '../setup/bad-entries.pipe.js';
import { SAMPLING_ENTRIES } from '../setup/bad-entries.sampling.js';
import { SHIFT_ENTRIES } from '../setup/bad-entries.shifts.js';
import { WELDING_ENTRIES } from '../setup/bad-entries.welding.js';
import { entryWorld, type EntryWorld } from '../setup/entry-world.js';
import { seedFromEnvironment } from '../setup/seed.js';
import type { StringBench } from '../setup/string-bench.js';
import { read, unlikelyFindings } from '../setup/unlikely-entries.js';
import { BAD_READING_KINDS, UNLIKELY_KINDS } from '../setup/unlikely-entries.kinds.js';

const KINDS: readonly EntryKind[] = [...INSTRUMENT_ENTRIES, ...WELDING_ENTRIES, ...PIPE_ENTRIES, ...SAMPLING_ENTRIES, ...SHIFT_ENTRIES, ...INSPECTION_ENTRIES, ...INDICATION_ENTRIES, ...HOLD_ENTRIES, ...CHART_ENTRIES];
const LEAST = 1000;
/** Of each kind that asks. */
const UNLIKELY = 50;
/** Of each kind that marks. */
const BAD_READINGS = 20;
const { seed = Date.now() % 1_000_000_000 } = seedFromEnvironment();

let api: TestApi;
let bench: StringBench;
let world: EntryWorld;

/** A route that no program should have: it writes and says that it refused. */
function plant(message: unknown): void {
  (message as { fastify: FastifyInstance }).fastify.post('/api/planted', async (_request, reply) => {
    await api.owner.query(`insert into number_series (name, last_number) values (gen_random_uuid()::text, 1)`);
    const problem = {
      type: 'urn:everymetre:problem:planted', title: 'Refused', status: 422, detail: 'x', instance: '/api/planted', requestId: 'x', errors: [{ field: 'number', value: 'X', limit: 'a number that is free' }],
    };
    return reply.status(422).header('content-type', 'application/problem+json').send(JSON.stringify(problem));
  });
}

beforeAll(async () => {
  subscribe('fastify.initialization', plant);
  api = await startTestApi();
  unsubscribe('fastify.initialization', plant);
  ({ bench, world } = await entryWorld(api));
}, 60_000);
afterAll(() => api.close());

const enter = (kind: EntryKind, nth: number) => bench.who.send('POST', `/api/${kind.path}`, { body: withId(kind, kind.right(world, nth)) });
const withId = ({ path }: EntryKind, entry: Fields): Fields => (path === 'splices/whole' ? entry : { id: uuidv7(), ...entry });

/** Every fault of every kind, alone or with one or two others, round after round until there are enough. */
function drawn(dice: Dice): BadEntry[] {
  const entries: BadEntry[] = [];
  for (let nth = 1; entries.length < LEAST; nth += 1) {
    for (const kind of KINDS) {
      for (const fault of kind.faults) {
        const entry = badEntry(kind, drawnFaults(kind, fault, dice), world, nth, dice);
        entries.push({ ...entry, body: withId(kind, entry.body) });
      }
    }
  }
  return entries;
}

describe('entries that somebody who is tired would send', () => {
  test('a right one of each kind is taken', async () => {
    for (const kind of KINDS) expect([kind.path, (await enter(kind, 0)).status]).toEqual([kind.path, 201]);
  });

  test('with anything wrong they are refused, all that is wrong is named, and nothing is written', async () => {
    const { sent, findings, counts } = await sendBadEntries(api, bench.who, drawn(new Dice(seed)));
    process.stdout.write(`bad entries: seed ${seed}, ${sent} sent\n${KINDS.map(({ path }) => `  ${path}: ${Object.values(counts[path] ?? {}).reduce((sum, one) => sum + one, 0)} faults of ${Object.keys(counts[path] ?? {}).length}`).join('\n')}\n`);
    expect(findings.slice(0, 30)).toEqual([]);
    expect(sent).toBeGreaterThanOrEqual(LEAST);
    const never = KINDS.flatMap(({ path, faults }) => faults.filter(({ name }) => counts[path]?.[name] === undefined).map(({ name }) => `${path}: ${name}`));
    expect(never).toEqual([]);
    expect(KINDS.flatMap(({ path, faults }) => (new Set(faults.map(({ name }) => name)).size === faults.length ? [] : [path]))).toEqual([]);
  }, 120_000);

  test('the entries that the bad ones were made of are taken still', async () => {
    for (const kind of KINDS) expect([kind.path, (await enter(kind, 1)).status]).toEqual([kind.path, 201]);
  });
});

describe('entries with values that are possible but unlikely', () => {
  test.each(UNLIKELY_KINDS)('of $path are asked about once, taken when confirmed by their code, and keep value and mark', async (kind) => {
    const dice = new Dice(seed);
    const prepared = (await kind.prepare?.(bench, world, UNLIKELY)) ?? [];
    const entries = Array.from({ length: UNLIKELY }, (_, nth) => {
      const { body, asked } = kind.draw(world, nth, dice, prepared);
      return { body: { id: uuidv7(), ...body }, asked };
    });
    expect((await unlikelyFindings(api, bench, kind, entries, dice)).slice(0, 10)).toEqual([]);
  }, 60_000);

  test.each(BAD_READING_KINDS)('a true bad reading of $path is taken without a question, and marked', async ({ path, draw }) => {
    const dice = new Dice(seed);
    for (let nth = 0; nth < BAD_READINGS; nth += 1) {
      const { body, field, digits } = draw(world, nth, dice);
      const { status, body: answer } = await bench.enter(path, body);
      const marks = (answer['marks'] as Fields[] | undefined) ?? [];
      const isMarked = marks.some((mark) => mark['kind'] === 'out-of-specification' && mark['field'] === field && String(mark['value']).split(' ')[0] === digits);
      expect([body, status, read(answer, field), isMarked, marks]).toEqual([body, 201, digits, true, marks]);
    }
  });
});

describe('the check itself', () => {
  const refusal = (errors: Fields[]): Answer => ({ status: 422, headers: { 'content-type': 'application/problem+json' }, body: { errors } });
  const hand = { field: 'hand', value: 'square', limit: 'left or right at 45°' };
  const doubt = { field: 'doubt', value: null, limit: 'what is in doubt' };
  const must = { status: 422, named: [{ field: 'hand', value: 'square' }, { field: 'doubt', value: null }] };

  test.each([
    ['nothing', [hand, doubt], []],
    ['a wrong field', [hand, { ...doubt, field: 'verdict' }], [/does not name doubt null/, /names verdict null, which is right/]],
    ['a wrong value', [{ ...hand, value: 'left' }, doubt], [/does not name hand "square"/, /names hand "left", which is right/]],
    ['a missing entry', [hand], [/does not name doubt null/]],
    ['one more', [hand, doubt, { ...hand, field: 'number' }], [/names number "square", which is right/]],
    ['one twice', [hand, doubt, hand], [/names hand "square" twice/]],
    ['a limit that says nothing', [hand, { ...doubt, limit: ' ' }], [/says of doubt only/]],
    ['a generic limit', [{ ...hand, limit: 'Invalid' }, doubt], [/says of hand only "Invalid"/]],
  ])('notices %s', (_, errors, found) => {
    expect(answerFaults(must, refusal(errors))).toEqual(found.map((one) => expect.stringMatching(one)));
  });

  test('notices another status, and an answer that is no problem', () => {
    expect(answerFaults({ ...must, status: 400 }, refusal([hand, doubt]))).toEqual([expect.stringMatching(/^answered 422, not 400/)]);
    expect(answerFaults(must, { ...refusal([hand, doubt]), headers: { 'content-type': 'text/html' } })).toEqual(['is text/html']);
  });

  test('finds the one entry among many that writes, and the one that is taken', async () => {
    const named = [{ field: 'number', value: 'X' }];
    const [kind] = KINDS as [EntryKind];
    const harmless = kind.faults.map((fault) => ({ ...badEntry(kind, [fault], world, 1, new Dice(seed)) })).map((entry) => ({ ...entry, body: withId(kind, entry.body) }));
    const writes: BadEntry = { path: 'planted', faults: ['planted'], body: {}, status: 422, named };
    const { findings } = await sendBadEntries(api, bench.who, [...harmless.slice(0, 5), writes, ...harmless.slice(5)]);
    expect(findings).toEqual([expect.stringMatching(/^planted \(planted\): wrote to number_series/)]);
    const taken = { path: kind.path, faults: ['none'], body: withId(kind, kind.right(world, 2)), status: 422, named };
    expect((await sendBadEntries(api, bench.who, [taken])).findings).toEqual([expect.stringMatching(/answered 201, not 422/), expect.stringMatching(/wrote to .*weld_procedure/)]);
  });

  test('finds a value that nobody asks about, and a question about another field', async () => {
    const [splices] = UNLIKELY_KINDS.filter(({ path }) => path === 'splices');
    const right = { id: uuidv7(), ...KINDS.find(({ path }) => path === 'splices')!.right(world, 77) };
    const flat = { ...right, id: uuidv7(), number: 'S-X78', angleDeg: '12' };
    const found = await unlikelyFindings(api, bench, splices!, [{ body: right, asked: [{ field: 'angleDeg', value: '45' }] }, { body: flat, asked: [{ field: 'hand', value: 'left' }] }], new Dice(seed));
    expect(found).toEqual([expect.stringMatching(/answered 201/), expect.stringMatching(/asks about angleDeg=12, not hand=left/), expect.stringMatching(/questions wrote to .*splice/)]);
  });
});
