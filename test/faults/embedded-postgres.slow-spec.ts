import { spawn } from 'node:child_process';
import { mkdir, readdir, readFile, stat, writeFile } from 'node:fs/promises';
import { createServer, type AddressInfo } from 'node:net';
import { dirname, join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { afterEach, describe, expect, jest, test } from '@jest/globals';
import { EmbeddedPostgresError } from '../../libs/persistence/embedded/index.js';
import {
  cleanUp,
  endOf,
  keep,
  keptRows,
  killProgram,
  newFolder,
  postmasterPid,
  query,
  reportOf,
  start,
  startProgram,
} from './embedded-postgres.harness.js';

jest.setTimeout(60_000);
afterEach(cleanUp);

const dataIn = async (): Promise<string> => join(await newFolder(), 'data');

/** The error of a start that must fail: one line, and of the kind that is shown to people as it is. */
async function failureOf(starting: Promise<unknown>): Promise<string> {
  const error: unknown = await starting.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  expect(error).toBeInstanceOf(EmbeddedPostgresError);
  const { message } = error as EmbeddedPostgresError;
  expect(message).not.toMatch(/\n/u);
  return message;
}

describe('an ordinary start', () => {
  test('creates the database once and finds it again', async () => {
    const dataFolder = await dataIn();
    const first = await start({ dataFolder });
    await keep(first.url, 'first');
    await first.stop();
    await first.stop();
    const second = await start({ dataFolder });
    expect([first.firstStart, first.recovered, second.firstStart, second.recovered]).toEqual([true, false, false, false]);
    expect(await keptRows(second.url)).toEqual(['first']);
  });

  test('is durable, checked, in UTF-8 and closed to other machines and users', async () => {
    const { url, dataFolder } = await start({ dataFolder: await dataIn(), settings: { listen_addresses: '*' } });
    const names = ['data_checksums', 'fsync', 'full_page_writes', 'listen_addresses', 'synchronous_commit', 'unix_socket_directories'];
    const settings = await query(url, 'SELECT name, setting FROM pg_settings WHERE name = ANY($1) ORDER BY name', [names]);
    expect(settings.map(({ setting }) => setting)).toEqual(['on', 'on', 'on', '127.0.0.1', 'on', '']);
    expect(await query(url, `SELECT current_setting('server_encoding') AS encoding, current_database() AS name`)).toEqual([
      { encoding: 'UTF8', name: 'everymetre' },
    ]);
    expect((await stat(join(dataFolder, 'password'))).mode & 0o777).toBe(0o600);
    await expect(query(url.replace(/:[^:@]+@/u, ':wrong@'), 'SELECT 1')).rejects.toThrow(/password authentication failed/u);
  });

  test('outlives Ctrl-C until the program has finished', async () => {
    const dataFolder = await dataIn();
    const program = startProgram(dataFolder);
    await keep((await reportOf(program)).url, 'before');
    process.kill(-program.pid!, 'SIGINT'); // to the whole group, as a terminal does
    expect(await endOf(program)).toBe(0);
    const next = await start({ dataFolder });
    expect(next.recovered).toBe(false);
    expect(await keptRows(next.url)).toEqual(['before', 'written after the signal']);
  });
});

describe('after kill -9', () => {
  test('of the program, its server is taken over with what was committed', async () => {
    const dataFolder = await dataIn();
    const program = startProgram(dataFolder);
    const before = await reportOf(program);
    await keep(before.url, 'committed');
    const pid = await postmasterPid(dataFolder);
    await killProgram(program);
    const next = await start({ dataFolder });
    expect([next.recovered, next.firstStart, next.url, await postmasterPid(dataFolder)]).toEqual([true, false, before.url, pid]);
    expect(await keptRows(next.url)).toEqual(['committed']);
    await next.stop();
    expect(await readdir(join(dataFolder, 'cluster'))).not.toContain('postmaster.pid');
    expect(await keptRows((await start({ dataFolder })).url)).toEqual(['committed']);
  });

  test('of the program, a session it left in a transaction holds nothing any more', async () => {
    const dataFolder = await dataIn();
    const program = startProgram(dataFolder);
    const { url } = await reportOf(program);
    await keep(url, 'committed');
    const left = query(url, 'BEGIN; LOCK TABLE kept; SELECT pg_sleep(50)').catch((error: unknown) => String(error));
    await pause(300);
    await killProgram(program);
    const next = await start({ dataFolder });
    expect(await left).toMatch(/terminating connection/u);
    expect(await keptRows(next.url)).toEqual(['committed']);
  });

  test('of the program, a server on another port than is asked for is restarted there', async () => {
    const dataFolder = await dataIn();
    const program = startProgram(dataFolder);
    const before = await reportOf(program);
    await keep(before.url, 'committed');
    await killProgram(program);
    const port = await unusedPort();
    const next = await start({ dataFolder, port });
    expect([next.recovered, new URL(next.url).port]).toEqual([true, String(port)]);
    expect(await keptRows(next.url)).toEqual(['committed']);
  });

  test('of the program and the server, the next start recovers', async () => {
    const dataFolder = await dataIn();
    await killBoth(dataFolder, 'committed');
    const next = await start({ dataFolder });
    expect(next.recovered).toBe(true);
    expect(await keptRows(next.url)).toEqual(['committed']);
  });

  test('of both, with the process id since given to another process, which is left alone', async () => {
    const dataFolder = await dataIn();
    await killBoth(dataFolder, 'committed');
    const { uid, gid } = await stat(join(dataFolder, 'cluster'));
    const stranger = spawn('sleep', ['50'], { cwd: '/', ...(process.getuid?.() === 0 ? { uid, gid } : {}) });
    const file = join(dataFolder, 'cluster', 'postmaster.pid');
    await writeFile(file, (await readFile(file, 'utf8')).replace(/^\d+/u, String(stranger.pid)));
    const next = await start({ dataFolder });
    expect([next.recovered, stranger.exitCode, stranger.signalCode]).toEqual([true, null, null]);
    expect(await keptRows(next.url)).toEqual(['committed']);
    await next.stop();
    expect(stranger.signalCode).toBeNull();
    stranger.kill();
  });

  test('in the middle of the first start, the next one begins anew and clears up', async () => {
    const dataFolder = await dataIn();
    const program = startProgram(dataFolder);
    while (!(await draftsIn(dataFolder)).some(({ files }) => files.includes('global'))) await pause(5);
    await killProgram(program);
    const drafts = await draftsIn(dataFolder);
    expect([drafts.length, (await readdir(dataFolder)).includes('cluster')]).toEqual([1, false]);
    const next = await start({ dataFolder });
    await keep(next.url, 'works');
    expect([next.firstStart, next.recovered, await keptRows(next.url)]).toEqual([true, true, ['works']]);
    expect((await readdir(dataFolder)).sort()).toEqual(['cluster', 'password', 'postgres.log']);
  });
});

describe('two programs', () => {
  test.each(['new', 'existing', 'orphaned'])('at the same moment on a folder that is %s: exactly one wins', async (kind) => {
    const dataFolder = await dataIn();
    if (kind !== 'new') {
      const before = startProgram(dataFolder);
      await keep((await reportOf(before)).url, 'before');
      before.kill(kind === 'orphaned' ? 'SIGKILL' : 'SIGINT');
      await endOf(before);
    }
    const reports = await Promise.all([1, 2, 3].map(() => reportOf(startProgram(dataFolder))));
    const winners = reports.filter(({ error }) => error === '');
    const losers = reports.filter(({ error }) => error !== '');
    expect(losers.map(({ error }) => error)).toEqual(Array(2).fill(expect.stringMatching(/already in use by another running Everymetre/u)));
    await keep(winners[0]!.url, 'won');
    expect(await keptRows(winners[0]!.url)).toEqual(
      { new: ['won'], existing: ['before', 'won', 'written after the signal'], orphaned: ['before', 'won'] }[kind],
    );
  });

  test('one after the other: the second is told, the first is not disturbed', async () => {
    const dataFolder = await dataIn();
    const first = await start({ dataFolder });
    await keep(first.url, 'first');
    expect(await failureOf(start({ dataFolder }))).toBe(
      `The database is already in use by another running Everymetre (data folder ${dataFolder}): stop that one first, or choose another data folder.`,
    );
    expect(await keptRows(first.url)).toEqual(['first']);
  });

  test('the second while the first stops: it waits, then starts', async () => {
    const dataFolder = await dataIn();
    const first = await start({ dataFolder });
    await keep(first.url, 'first');
    const stopping = first.stop();
    const second = await start({ dataFolder });
    await stopping;
    expect([second.recovered, await keptRows(second.url)]).toEqual([false, ['first']]);
  });

  test('the owner whose lock connection was cut takes the lock again', async () => {
    const dataFolder = await dataIn();
    const first = await start({ dataFolder });
    await keep(first.url, 'first');
    const owners = `SELECT pid FROM pg_stat_activity JOIN pg_locks USING (pid) WHERE application_name = 'everymetre owner' AND locktype = 'advisory' AND granted`;
    const [before] = await query(first.url, owners);
    await query(first.url, `SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE application_name = 'everymetre owner'`);
    // On a busy machine it takes a moment; who starts within it finds the lock free, and the first then ends.
    for (let back = before; back === undefined || back['pid'] === before?.['pid'];) [back] = await query(first.url, owners);
    expect(await failureOf(start({ dataFolder }))).toMatch(/already in use/u);
    expect(await keptRows(first.url)).toEqual(['first']);
  });
});

describe('a start that cannot be', () => {
  test('on a taken port leaves the data as it was', async () => {
    const dataFolder = await dataIn();
    const first = await start({ dataFolder });
    await keep(first.url, 'first');
    await first.stop();
    const other = createServer();
    await new Promise<void>((resolve) => other.listen(0, '127.0.0.1', resolve));
    const { port } = other.address() as AddressInfo;
    expect(await failureOf(start({ dataFolder, port }))).toBe(
      `PostgreSQL cannot listen on port ${port} of 127.0.0.1 (it is taken by another program): free that port, or choose another.`,
    );
    await new Promise((resolve) => other.close(resolve));
    expect(await keptRows((await start({ dataFolder, port })).url)).toEqual(['first']);
  });

  test.each([
    ['files of others', 'letter.txt', /is not empty and is not Everymetre's \(it holds "letter\.txt"\)/u],
    ['a folder "cluster" of others', 'cluster/letter.txt', /holds a folder "cluster" that is not PostgreSQL's/u],
    ['the data of another major version', 'cluster/PG_VERSION', /was written by PostgreSQL 17 and this program brings 18/u],
  ])('on a folder with %s writes nothing', async (_, name, message) => {
    const dataFolder = await dataIn();
    await mkdir(dirname(join(dataFolder, name)), { recursive: true });
    await writeFile(join(dataFolder, name), '17\n');
    const before = await stat(dataFolder);
    expect(await failureOf(start({ dataFolder }))).toMatch(message);
    const after = await stat(dataFolder);
    expect([after.mtimeMs, after.mode, after.uid]).toEqual([before.mtimeMs, before.mode, before.uid]);
    expect(await readFile(join(dataFolder, name), 'utf8')).toBe('17\n');
  });

  test('on a file in place of a folder', async () => {
    const dataFolder = await dataIn();
    await writeFile(dataFolder, 'a file');
    expect(await failureOf(start({ dataFolder }))).toMatch(/cannot be read and written by this user \(ENOTDIR/u);
  });

  test('with its password file gone says so, and works once the file is back', async () => {
    const dataFolder = await dataIn();
    const first = await start({ dataFolder });
    await keep(first.url, 'first');
    await first.stop();
    const file = join(dataFolder, 'password');
    const password = await readFile(file, 'utf8');
    await writeFile(file, 'another\n');
    expect(await failureOf(start({ dataFolder }))).toMatch(/PostgreSQL refuses the password in .*password/u);
    await writeFile(file, password);
    expect(await keptRows((await start({ dataFolder })).url)).toEqual(['first']);
  });

  test('with a setting PostgreSQL refuses names it', async () => {
    const starting = start({ dataFolder: await dataIn(), settings: { max_connections: 'many' } });
    expect(await failureOf(starting)).toMatch(/PostgreSQL ended at once .*max_connections/u);
  });
});

async function unusedPort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  await new Promise((resolve) => server.close(resolve));
  return port;
}

/** Writes a row through a program, then kills it and its server. */
async function killBoth(dataFolder: string, text: string): Promise<void> {
  const program = startProgram(dataFolder);
  await keep((await reportOf(program)).url, text);
  const pid = await postmasterPid(dataFolder);
  await killProgram(program);
  process.kill(pid, 'SIGKILL');
}

/** The half-made clusters in a data folder, with what each holds. */
async function draftsIn(dataFolder: string): Promise<{ files: string[] }[]> {
  const names = await readdir(dataFolder).catch(() => []);
  const drafts = names.filter((name) => name.startsWith('cluster.new-'));
  return await Promise.all(drafts.map(async (name) => ({ files: await readdir(join(dataFolder, name)).catch(() => []) })));
}
