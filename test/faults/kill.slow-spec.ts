import { afterAll, beforeAll, describe, expect, jest, test } from '@jest/globals';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { v7 as uuidv7 } from 'uuid';
import { seedFromEnvironment } from '../setup/seed.js';
import type { Wire } from '../setup/wire.js';
import { endPrograms, killDatabase, makeAdministrator, Program, signedIn, withDatabase } from './api.harness.js';
import { cleanUp, newFolder } from './embedded-postgres.harness.js';
import { departures, readStored, type Entry, type Stored } from './journal.js';
import { Writer } from './journal-writer.js';

jest.setTimeout(600_000);

const KILLS = 20;
/** Every fourth kill takes the database with all its processes, before the program. */
const DATABASE_EVERY = 4;
const WRITERS = 4;
const LONGEST_RUN_WRITES = 60;

const seed = seedFromEnvironment().seed ?? Math.trunc(Math.random() * 2 ** 31);
const journal: Entry[] = [];
let dataFolder: string;
let program: Program;
let spare: Program;
let wire: Wire;
let writers: Writer[];
let slowestRestartMs = 0;

/** Mulberry32: a small generator of numbers in [0, 1), the same for the same seed. */
function generator(start: number): () => number {
  let state = start;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

const load = (): Program => Program.api({ EVERYMETRE_DATA: dataFolder });

async function startAgain(): Promise<void> {
  const begun = performance.now();
  program = spare;
  const url = await program.started();
  slowestRestartMs = Math.max(slowestRestartMs, performance.now() - begun);
  spare = load();
  wire = await signedIn(url, 'writer');
}

const stored = (): Promise<Stored> => withDatabase(dataFolder, readStored);

beforeAll(async () => {
  dataFolder = join(await newFolder(), 'data');
  await makeAdministrator(dataFolder);
  spare = load();
  program = spare;
  const url = await program.started();
  spare = load();
  const administrator = await signedIn(url, 'first');
  const observedAt = '2026-03-01T06:00:00Z';
  const { status, body } = await administrator.post('people', {
    id: uuidv7(), observedAt, name: 'Writer', signInName: 'writer', roles: ['materials-engineer'], active: true, password: 'nine coils stayed very dry',
  });
  if (status !== 201) throw new Error(`no writer: ${JSON.stringify(body)}`);
  administrator.close();
  wire = await signedIn(url, 'writer');
  const random = generator(seed);
  writers = [];
  for (let nth = 0; nth < WRITERS; nth += 1) {
    writers.push(await Writer.on(wire, journal, generator(Math.trunc(random() * 2 ** 31)), { nth, personId: String(body['id']) }));
  }
});

afterAll(async () => {
  await endPrograms();
  await cleanUp();
});

describe('the program killed at a random moment while four write', () => {
  test(`${KILLS} times, the database with it every ${DATABASE_EVERY}th time: nothing answered is lost, nothing is half there`, async () => {
    const random = generator(seed + 1);
    const counts = { answered: 0, cut: 0, cutButThere: 0, databaseKills: 0 };
    for (let kill = 1; kill <= KILLS; kill += 1) {
      const writing = Promise.all(writers.map((writer) => writer.writeUntilCut(wire)));
      await sent(journal.length + random() * LONGEST_RUN_WRITES);
      await pause(random() * 20);
      if (kill % DATABASE_EVERY === 0) {
        await killDatabase(dataFolder);
        counts.databaseKills += 1;
        // The program answers some requests without its database before it goes too.
        await pause(random() * 30);
      }
      program.signal('SIGKILL');
      await program.ended();
      await writing;
      wire.close();
      await startAgain();
      const cut = journal.filter(({ answer }) => answer === null);
      const found = await stored();
      expect({ seed, kill, departures: departures(journal, found) }).toEqual({ seed, kill, departures: [] });
      const there = new Set(found.rows.map(({ id, version }) => `${id} ${version}`));
      counts.cut += cut.length;
      counts.cutButThere += cut.filter(({ effects: [first] }) => there.has(`${first?.id} ${first?.version}`)).length;
      await retry(cut);
      await repeatSome(random);
      expect({ seed, kill, departures: departures(journal, await stored()) }).toEqual({ seed, kill, departures: [] });
    }
    counts.answered = journal.length;
    process.stdout.write(
      `kill: seed ${seed}, ${KILLS} kills (${counts.databaseKills} of the database too), ${counts.answered} writes answered, ` +
      `${counts.cut} cut off of which ${counts.cutButThere} stood, lost 0, doubled 0, half written 0, slowest restart ${Math.round(slowestRestartMs)} ms\n`,
    );
    expect(counts.cut).toBeGreaterThan(KILLS);
    expect(counts.answered).toBeGreaterThan(10 * KILLS);
  });

  /** Waits until so many writes have been sent in all. */
  async function sent(count: number): Promise<void> {
    while (journal.length < count) await pause(1);
  }

  /** Each request that got no answer is sent again as it was, and taken. */
  async function retry(cut: readonly Entry[]): Promise<void> {
    for (const entry of cut) {
      const answer = await wire.send(entry.request);
      expect({ seed, request: entry.request, answer }).toMatchObject({ answer: { status: entry.request.method === 'PATCH' ? 200 : 201 } });
      entry.answer = answer;
    }
  }

  /** Requests that were answered, sent once more, get the same answer. */
  async function repeatSome(random: () => number): Promise<void> {
    for (let count = 0; count < 5; count += 1) {
      const entry = journal[Math.trunc(random() * journal.length)];
      if (entry === undefined) throw new Error('nothing was written');
      expect({ seed, answer: await wire.send(entry.request) }).toEqual({ seed, answer: entry.answer });
    }
  }

  test('the check itself sees a lost, a doubled, a half-written, a foreign and a disordered row, and a lost number or key', async () => {
    const found = await stored();
    const { rows } = found;
    const without = (...gone: readonly unknown[]): Stored => ({ ...found, rows: rows.filter((row) => !gone.includes(row)) });
    const one = (condition: (row: Stored['rows'][number]) => boolean): Stored['rows'][number] => {
      const row = rows.find(condition);
      if (row === undefined) throw new Error('the campaign wrote no such row');
      return row;
    };
    expect(departures(journal, found)).toEqual([]);
    const inspection = one(({ table }) => table === 'inspection');
    expect(departures(journal, without(inspection))).toEqual([`lost: inspection ${inspection.id} version 1`]);
    expect(departures(journal, { ...found, rows: [...rows, inspection] })).toContain(`doubled: inspection ${inspection.id} version 1`);
    const foreign = { ...inspection, id: uuidv7() };
    expect(departures(journal, { ...found, rows: [...rows, foreign] })).toEqual([`never sent: inspection ${foreign.id} version 1`]);
    const changed = { ...inspection, word: 'other' };
    expect(departures(journal, { ...found, rows: [...without(inspection).rows, changed] })).toEqual([`other content: inspection ${inspection.id} version 1`]);
    const batch = journal.find(({ effects }) => effects.length > 1);
    const reading = one(({ id }) => id === batch?.effects[1]?.id);
    const unanswered = journal.map((entry) => (entry === batch ? { ...entry, answer: null } : entry));
    expect(departures(unanswered, without(reading))).toEqual([expect.stringMatching(/^half written: /)]);
    const closed = one(({ knownUntil }) => knownUntil !== null);
    const open = { ...closed, knownUntil: null };
    expect(departures(journal, { ...found, rows: [...without(closed).rows, open] })).toEqual([`out of order: ${closed.table} ${closed.id} version ${closed.version}`]);
    const numbered = one(({ number }) => number === 1);
    expect(departures(journal, without(numbered))).toEqual([
      `lost: nonconformance ${numbered.id} version 1`, 'numbers: 2 in place of 1', expect.stringMatching(/^numbers: .* given out/),
    ]);
    expect(departures(journal, { ...found, lastNumber: found.lastNumber + 1 })).toHaveLength(1);
    expect(departures(journal, { ...found, keys: found.keys.slice(1) })).toEqual([expect.stringMatching(/^key without effect/)]);
  });
});
