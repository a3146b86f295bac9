import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { chmod, writeFile } from 'node:fs/promises';
import { connect, createServer, type AddressInfo } from 'node:net';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, afterEach, beforeAll, describe, expect, jest, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import type { Wire, WireAnswer } from '../setup/wire.js';
import { clusterOf, endPrograms, makeAdministrator, postmasterOf, Program, signedIn, withDatabase } from './api.harness.js';
import { cleanUp, newFolder } from './embedded-postgres.harness.js';

jest.setTimeout(120_000);

let dataFolder: string;

beforeAll(async () => {
  dataFolder = join(await newFolder(), 'data');
  await makeAdministrator(dataFolder);
});
afterEach(endPrograms);
afterAll(cleanUp);

const api = (changes: Record<string, string> = {}): Program => Program.api({ EVERYMETRE_DATA: dataFolder, ...changes });

/** Nothing listens there any more. */
async function refusesConnections(url: string): Promise<boolean> {
  const socket = connect(Number(new URL(url).port), '127.0.0.1');
  const refused = await once(socket, 'connect').then(() => false, () => true);
  socket.destroy();
  return refused;
}

const lines = (text: string): string[] => text.split('\n').filter((line) => line !== '');

describe('SIGTERM', () => {
  test('while requests are under way: they get their answers, new ones are refused, the database is stopped, the code is 0', async () => {
    const program = api();
    const url = await program.started();
    const administrator = await signedIn(url, 'first');
    const answers = await withDatabase(dataFolder, async (client) => {
      // Holds what every new person needs, so that the requests are under way until it is let go. Two, since no more
      // passwords are hashed at once.
      await client.query('begin');
      await client.query('lock table person in exclusive mode');
      const sent = Promise.all([1, 2].map((nth) => newPerson(administrator, nth)));
      await waitingFor(2, () => client.query("select 1 from pg_locks where not granted"));
      program.signal('SIGTERM');
      for (let tries = 0; tries < 200 && !(await refusesConnections(url)); tries += 1) await pause(5);
      expect(await refusesConnections(url)).toBe(true);
      await client.query('commit');
      return sent;
    });
    administrator.close();
    expect(answers.map(({ status }) => status)).toEqual([201, 201]);
    expect(await program.ended()).toMatchObject({ code: 0, err: '' });
    expect(await postmasterOf(dataFolder)).toBeNull();
    expect(existsSync(join(clusterOf(dataFolder), 'postmaster.pid'))).toBe(false);
  });

  test('the next start finds the data, and ends at once without requests', async () => {
    const program = api();
    const administrator = await signedIn(await program.started(), 'first');
    const { body } = await administrator.get('people');
    expect((body['items'] as { signInName: string }[]).map(({ signInName }) => signInName).sort()).toEqual(['first', 'person-1', 'person-2']);
    // A connection that is kept open without a request does not hold the end up.
    const begun = performance.now();
    program.signal('SIGTERM');
    expect((await program.ended()).code).toBe(0);
    expect(performance.now() - begun).toBeLessThan(9000);
    administrator.close();
  });

  async function newPerson(administrator: Wire, nth: number): Promise<WireAnswer> {
    return administrator.post('people', {
      id: uuidv7(), observedAt: '2026-03-01T06:00:00Z', name: `Person ${nth}`, signInName: `person-${nth}`, roles: ['qc-inspector'], active: true,
      password: 'nine coils stayed very dry',
    });
  }

  async function waitingFor(count: number, look: () => Promise<{ rowCount: number | null }>): Promise<void> {
    for (let tries = 0; tries < 400; tries += 1) {
      if (((await look()).rowCount ?? 0) >= count) return;
      await pause(5);
    }
    throw new Error(`fewer than ${count} requests came as far as the lock`);
  }
});

describe('what keeps it from starting is said in one line, with code 1', () => {
  async function failureOf(program: Program): Promise<string> {
    await expect(program.started()).rejects.toThrow('the program ended');
    const { code, out, err } = await program.ended();
    expect({ code, out, lines: lines(err).length }).toEqual({ code: 1, out: '', lines: 1 });
    return err;
  }

  test('a taken port; the database it had started by then is stopped', async () => {
    const other = createServer().listen(0, '127.0.0.1');
    await once(other, 'listening');
    const { port } = other.address() as AddressInfo;
    expect(await failureOf(api({ PORT: String(port) }))).toMatch(new RegExp(`^Port ${port} on 127\\.0\\.0\\.1 is taken`));
    other.close();
    expect(await postmasterOf(dataFolder)).toBeNull();
  });

  test('a data folder in use by another program', async () => {
    const first = api();
    const url = await first.started();
    expect(await failureOf(api())).toContain('already in use by another running Everymetre');
    const administrator = await signedIn(url, 'first');
    expect((await administrator.get('people')).status).toBe(200);
    administrator.close();
  });

  test('a data folder that is a file', async () => {
    const file = join(await newFolder(), 'data');
    await writeFile(file, '');
    expect(await failureOf(api({ EVERYMETRE_DATA: file }))).toContain(file);
  });

  test('a data folder whose database is unreadable', async () => {
    const folder = join(await newFolder(), 'data');
    await makeAdministrator(folder);
    const control = join(clusterOf(folder), 'global', 'pg_control');
    await chmod(control, 0o000);
    expect(await failureOf(api({ EVERYMETRE_DATA: folder }))).toMatch(/PostgreSQL|pg_control/);
  });

  test('a setting that cannot be', async () => {
    expect(await failureOf(api({ PORT: 'none' }))).toBe('PORT is "none": it must be a whole number from 0 to 65535.\n');
  });
});
