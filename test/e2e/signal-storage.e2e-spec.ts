import { createHash } from 'node:crypto';
import { copyFile, mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, jest, test } from '@jest/globals';
import pg from 'pg';
import { attachSignals } from '../../apps/api/src/signal-storage/attach-signals.js';
import { copyOut, detachSignals, letGo } from '../../apps/api/src/signal-storage/detach-signals.js';
import { demandString, listSamples } from '../../apps/api/src/signal-storage/signal-rows.js';
import type { Answer } from '../setup/api.js';
import { lineFactory } from './line.factory.js';
import { channel, inspectionRun, openUpload, range, sendPart, upload } from './signals.factory.js';

const { api, engineer, stringId, post, made, period } = lineFactory();
let folder: string;
let drawn = 0;
let client: pg.Client;
let wall: string;
let echo: string;
let uploadId: string;

beforeAll(async () => { folder = await mkdtemp(join(tmpdir(), 'signals-')); });
afterAll(() => rm(folder, { recursive: true }));

beforeEach(async () => {
  client = await connected();
  await made('counter-periods', period());
  [wall, echo] = await filledString(stringId());
});
afterEach(() => client.end().catch(() => undefined));

async function connected(): Promise<pg.Client> {
  const one = new pg.Client({ connectionString: api().databaseUrl });
  one.on('error', () => undefined);
  await one.connect();
  return one;
}

const newPath = (): string => join(folder, `${(drawn += 1)}.signals`);

/** Two channels with 10,000 samples each, a hole and values that are no numbers among them. */
async function filledString(string: string): Promise<[string, string]> {
  const ids: [string, string] = [await made('channels', channel(string, 'wall')), await made('channels', channel(string, 'echo', { measures: 'ultrasonic-amplitude', unit: '%', threshold: null }))];
  const runId = await made('inspection-runs', inspectionRun(string, ids));
  uploadId = await openUpload(post, upload(runId, [{ column: 'wall', channelId: ids[0] }, { column: 'echo', channelId: ids[1] }]));
  expect([await sent(1, 0, 5_000), await sent(2, 6_000, 11_000)].map(({ status }) => status)).toEqual([200, 200]);
  return ids;
}

async function sent(partNo: number, from: number, to: number): Promise<Answer> {
  const counter = range(from, to);
  const values = { wall: counter.map((at) => (at % 997 === 0 ? -999 : at % 1_009 === 0 ? NaN : 5 + Math.sin(at / 700) / 3)), echo: counter.map((at) => (at * 7_919) % 101) };
  return sendPart(engineer().send, uploadId, partNo, { counter, values, firstAt: `2026-03-02T06:${10 + partNo}:00Z`, lastAt: `2026-03-02T06:${10 + partNo}:50Z` });
}

const questions = (string = stringId(), [one, other] = [wall, echo]): string[] => {
  const about = `/api/casing-strings/${string}`;
  return [
    ...[one, other].flatMap((id) => [
      `${about}/signal-view?channelId=${id}&fromM=0&toM=12&widthPx=300`, `${about}/samples?channelId=${id}&fromM=0&toM=12`, `${about}/samples?channelId=${id}&fromM=3&toM=9&format=csv`,
    ]),
    `${about}/inspection-proof`, `${about}/strip-chart.svg?fromM=0&toM=12`,
  ];
};
const ask = (path: string): Promise<Answer> => engineer().send('GET', path);
const answers = async (paths = questions()): Promise<unknown[]> => {
  const all: unknown[] = [];
  for (const path of paths) {
    const { status, body } = await ask(path);
    all.push([path, status, typeof body === 'string' ? createHash('sha256').update(body, 'latin1').digest('hex') : body]);
  }
  return all;
};

/** Everything of a string's rows, to the bit. */
async function stored(string = stringId()): Promise<string | null> {
  const { rows } = await client.query<{ md5: string | null }>(
    "select md5(string_agg(b::text, '|' order by channel_id, level, block_no)) as md5 from signal_block b where string_id = $1", [string],
  );
  return rows[0]?.md5 ?? null;
}

const expectRefused = async (message: RegExp, path: string): Promise<void> => { await expect(attachSignals(client, path)).rejects.toThrow(message); };

/** Each of them asks the whole of a string several times over. */
jest.setTimeout(120_000);

describe('samples detached into a file', () => {
  test('and attached again are the same to the bit, and so is every answer of a server that ran all the while', async () => {
    const [before, rows] = [await answers(), await stored()];
    expect((before as [string, number][]).map(([, status]) => status)).toEqual(before.map(() => 200));
    const path = newPath();
    const file = await detachSignals(client, stringId(), path);
    expect([await stored(), file.sha256]).toEqual([null, createHash('sha256').update(await readFile(path)).digest('hex')]);
    const name = path.split('/').at(-1) ?? '';
    for (const question of questions()) {
      const { status, body } = await ask(question);
      expect([question, status, body['type']]).toEqual([question, 409, 'urn:everymetre:problem:signals-detached']);
      expect(body['detail']).toContain(`in the file ${name} with SHA-256 ${file.sha256}`);
    }
    expect((await listSamples(client)).find((one) => one.stringId === stringId())).toMatchObject({ rows: 0, detached: { fileName: name, sha256: file.sha256 } });
    await attachSignals(client, path);
    expect([await stored(), await answers()]).toEqual([rows, before]);
    expect((await listSamples(client)).find((one) => one.stringId === stringId())).toMatchObject({ rows: file.head.rows, detached: null });
  });

  test('take no new part meanwhile, know a part that was taken before, and go on where they were afterwards', async () => {
    const path = newPath();
    await detachSignals(client, stringId(), path);
    expect(await sent(3, 11_000, 16_000)).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:signals-detached' } });
    expect(await sent(1, 0, 5_000)).toMatchObject({ status: 200, body: { isNew: false } });
    expect(await engineer().send('GET', `/api/signal-uploads/${uploadId}`)).toMatchObject({ body: { parts: [{ from: 1, to: 2 }] } });
    expect(await stored()).toBe(null);
    await attachSignals(client, path);
    expect(await sent(3, 11_000, 16_000)).toMatchObject({ status: 200, body: { isNew: true, samples: 5_000 } });
    const { body } = await ask(`/api/casing-strings/${stringId()}/signal-view?channelId=${echo}&fromM=0&toM=20&widthPx=1`);
    expect(body['columns']).toMatchObject({ samples: [15_000], looks: [1] });
  });

  test('leave another string as it is', async () => {
    const other = await made('casing-strings', {
      wellId: await made('wells', { name: 'Lindmoor Geothermal 9', datum: 'Top of the guide frame', observedAt: '2026-03-02T05:00:00Z' }), name: `Beside ${stringId().slice(-6)}`, footageLimitMm: 4_000_000,
      outsideDiameterMm: '127.0', wallThicknessMm: '5.00', lengthRatio: '0.985', lengthRatioU: '0.004', observedAt: '2026-03-02T05:10:00Z',
    });
    await made('counter-periods', { ...period(), stringId: other });
    const channels = await filledString(other);
    const [before, rows] = [await answers(questions(other, channels)), await stored(other)];
    const [own, others] = [newPath(), newPath()];
    await detachSignals(client, stringId(), own);
    expect([await answers(questions(other, channels)), await stored(other)]).toEqual([before, rows]);
    await detachSignals(client, other, others);
    await attachSignals(client, own);
    expect([await stored(other), (await ask(questions(other, channels)[0] ?? '')).status]).toEqual([null, 409]);
    await attachSignals(client, others);
    expect(await answers(questions(other, channels))).toEqual(before);
  });
});

describe('nothing is lost', () => {
  test('when it ends after the file and before the rows are deleted', async () => {
    const [before, path] = [await answers(), newPath()];
    await copyOut(client, stringId(), path);
    await client.end();
    client = await connected();
    expect(await answers()).toEqual(before);
    await expectRefused(/are in the database: nothing is to be attached/, path);
    await expect(detachSignals(client, stringId(), path)).rejects.toThrow(/is there already: name a new file/);
    expect((await stat(path)).size).toBeGreaterThan(10_000);
    await detachSignals(client, stringId(), newPath());
  });

  test('when a part comes in between: the rows stay, all of them', async () => {
    const file = await copyOut(client, stringId(), newPath());
    expect(await sent(3, 11_000, 12_000)).toMatchObject({ status: 200 });
    await expect(letGo(client, file)).rejects.toThrow(/samples came in meanwhile. They are all still there/);
    const { body } = await ask(`/api/casing-strings/${stringId()}/signal-view?channelId=${echo}&fromM=0&toM=20&widthPx=1`);
    expect(body['columns']).toMatchObject({ samples: [11_000] });
  });

  test('when it is killed while it deletes, or while it brings back', async () => {
    const [before, rows, path] = [await answers(), await stored(), newPath()];
    const file = await copyOut(client, stringId(), path);
    // Its last statement waits for this one, with all rows deleted.
    await killedWaiting('lock table signal_detachment in share mode', () => letGo(client, file));
    expect([await stored(), await answers()]).toEqual([rows, before]);
    await letGo(client, file);
    // And here, with all of them back.
    await killedWaiting('select 1 from signal_detachment for update', () => attachSignals(client, path));
    expect([await stored(), (await ask(questions()[0] ?? '')).status]).toEqual([null, 409]);
    await attachSignals(client, path);
    expect([await stored(), await answers()]).toEqual([rows, before]);
  });

  /** Ends the connection of `work` once it waits for what another transaction holds. */
  async function killedWaiting(holding: string, work: () => Promise<unknown>): Promise<void> {
    const holder = await connected();
    try {
      await holder.query('begin');
      await holder.query(holding);
      const { rows: [own] } = await client.query<{ pid: number }>('select pg_backend_pid() as pid');
      const ended = work().then(() => 'done', () => 'failed');
      for (;;) {
        const { rows: [state] } = await holder.query<{ waits: boolean }>("select wait_event_type = 'Lock' as waits from pg_stat_activity where pid = $1", [own?.pid]);
        if (state?.waits === true) break;
        await pause(20);
      }
      await holder.query('select pg_terminate_backend($1)', [own?.pid]);
      expect(await ended).toBe('failed');
    } finally {
      await holder.query('rollback');
      await holder.end();
    }
    client = await connected();
  }
});

describe('a file is refused, and nothing changes', () => {
  test('that is attached already, damaged anywhere, cut short, of another string or of an earlier time', async () => {
    const path = newPath();
    const { sizeBytes, rowsFrom } = await detachSignals(client, stringId(), path);
    const whole = await readFile(path);
    for (const at of [rowsFrom - 3, rowsFrom + 30, Math.floor(sizeBytes / 2), sizeBytes - 75, sizeBytes - 5]) {
      const damaged = Buffer.from(whole);
      damaged[at] = (damaged[at] ?? 0) ^ 1;
      await writeFile(`${path}.damaged`, damaged);
      await expectRefused(/is damaged|is not whole/, `${path}.damaged`);
    }
    for (const length of [0, 40, rowsFrom, 3_000, sizeBytes - 1]) {
      await writeFile(`${path}.short`, whole.subarray(0, length));
      await expectRefused(/is not whole|is no file of signals/, `${path}.short`);
    }
    await expectRefused(/cannot be read/, `${path}.absent`);
    expect(await stored()).toBe(null);
    await attachSignals(client, path);
    await expectRefused(/are in the database/, path);
    await sent(3, 11_000, 12_000);
    const rows = await stored();
    const later = newPath();
    await detachSignals(client, stringId(), later);
    await expectRefused(/is not the file that was detached: that one was .* with SHA-256 [0-9a-f]{64}/, path);
    // Under the other's name it is no other file.
    await copyFile(path, `${later}.copy`);
    await expectRefused(/is not the file that was detached/, `${later}.copy`);
    expect(await stored()).toBe(null);
    await attachSignals(client, later);
    expect(await stored()).toBe(rows);
  });

  test('of a string of which this database has detached nothing', async () => {
    const path = newPath();
    await copyOut(client, stringId(), path);
    const text = (await readFile(path)).toString('latin1').replace(stringId(), '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b99');
    const body = Buffer.from(text.slice(0, -73), 'latin1');
    await writeFile(path, Buffer.concat([body, Buffer.from(`\nsha256 ${createHash('sha256').update(body).digest('hex')}\n`)]));
    await expectRefused(/No samples of the string 0197a2c4-5b00-7d31-9c11-3a5d0e7f1b99 were detached from this database/, path);
  });

  test('a string without samples, or that is none, has nothing to detach', async () => {
    const path = newPath();
    await detachSignals(client, stringId(), path);
    await expect(detachSignals(client, stringId(), newPath())).rejects.toThrow(/holds no samples/);
    await expect(demandString(client, "x' or true")).rejects.toThrow(/is the id of no string here/);
    await expect(demandString(client, wall)).rejects.toThrow(/is the id of no string here/);
    expect(await demandString(client, stringId().toUpperCase())).toBe(stringId());
  });

  test("the service's own role can do none of it", async () => {
    await client.query('set role everymetre_app');
    const path = newPath();
    await expect(detachSignals(client, stringId(), path)).rejects.toThrow(/permission denied/);
    await client.query('reset role');
    expect(await stored()).not.toBe(null);
  });
});
