import { connect, type Socket } from 'node:net';
import { once } from 'node:events';
import { PassThrough } from 'node:stream';
import { setTimeout as pause } from 'node:timers/promises';
import { beforeAll, beforeEach, describe, expect, test } from '@jest/globals';
import { Client } from 'pg';
import { v7 as uuidv7 } from 'uuid';
import { partBody } from '../../apps/api/src/signals/part-body.js';
import { databaseState } from '../setup/database-state.js';
import { lineFactory } from './line.factory.js';
import { arrowPart, channel, digestOfBytes, inspectionRun, openUpload, range, sendPart, upload } from './signals.factory.js';

const { api, engineer, stringId, post, made, amend, period } = lineFactory();
let channels: string[];
let runId: string;
let periodId: string;

beforeEach(async () => {
  periodId = await made('counter-periods', period());
  channels = [await made('channels', channel(stringId(), 'one')), await made('channels', channel(stringId(), 'two'))];
  runId = await made('inspection-runs', inspectionRun(stringId(), channels));
});

const opened = (own = channels): Promise<string> => openUpload(post, upload(runId, own.map((channelId, index) => ({ column: `c${index}`, channelId }))));

const part = (from: number, count: number, value = 5, columns = 2) => ({
  counter: range(from, from + count), values: Object.fromEntries(range(0, columns).map((column) => [`c${column}`, range(0, count).map((index) => value + (index % 9) / 10)])),
  firstAt: '2026-03-02T06:10:00Z', lastAt: '2026-03-02T06:11:00Z',
});
const send = (id: string, no: number, given: Parameters<typeof sendPart>[3]): ReturnType<typeof sendPart> => sendPart(engineer().send, id, no, given);
const end = (id: string, partCount: number) => engineer().send('POST', `/api/signal-uploads/${id}/end`, { body: { partCount } });

/** Of each channel its level 0: the numbers of its blocks and, of each, the samples. */
async function blocksOf(channelId: string): Promise<{ no: number; items: number; part: number; upload: string }[]> {
  const rows: { no: number; items: number; part: number; upload: string }[] = await api().owner.query(
    'select block_no::int4 as no, items, part_no as part, upload_id as upload from signal_block where channel_id = $1 and level = 0 order by block_no', [channelId],
  );
  return rows;
}

async function demandNoHole(samples: number): Promise<void> {
  for (const channelId of channels) {
    const blocks = await blocksOf(channelId);
    expect(blocks.map(({ no }) => no)).toEqual(range(0, blocks.length));
    expect(blocks.reduce((sum, { items }) => sum + items, 0)).toBe(samples);
  }
}

/** What the answers say, in order: a part taken now, one that was here, or the status of a refusal. */
const outcomes = (answers: readonly { status: number; body: { isNew?: unknown } }[]): (string | number)[] =>
  answers.map(({ status, body }) => (status !== 200 ? status : body.isNew === true ? 'new' : 'here')).sort();

describe('parts at the same instant', () => {
  test('the same one from ten senders is taken once', async () => {
    const id = await opened();
    const answers = await Promise.all(range(0, 10).map(() => send(id, 1, part(0, 5_000))));
    expect(outcomes(answers)).toEqual([...Array.from({ length: 9 }, () => 'here'), 'new']);
    expect(new Set(answers.map(({ body }) => body['recordedAt'])).size).toBe(1);
    await demandNoHole(5_000);
  });

  test('of different contents under one number one is taken, and the others are told what stands there', async () => {
    const id = await opened();
    const answers = await Promise.all(range(0, 8).map((nth) => send(id, 1, part(nth * 10_000, 4_500, nth))));
    expect(outcomes(answers)).toEqual([...Array.from({ length: 7 }, () => 409), 'new']);
    const taken = answers.find(({ status }) => status === 200)?.body['sha256'];
    for (const { body } of answers.filter(({ status }) => status === 409)) expect(body['errors']).toContainEqual(expect.objectContaining({ field: 'Content-Digest', limit: taken }));
    await demandNoHole(4_500);
  });

  test('of two uploads of the same channels, named in another order, all are taken, and each lies in one piece', async () => {
    const [one, two] = [await opened(), await opened([...channels].reverse())];
    const answers = await Promise.all(range(1, 9).flatMap((no) => [send(one, no, part(no * 10_000, 4_200)), send(two, no, part(no * 10_000, 4_200))]));
    expect(outcomes(answers)).toEqual(Array.from({ length: 16 }, () => 'new'));
    await demandNoHole(16 * 4_200);
    const order = (await blocksOf(channels[0] as string)).map(({ upload: of, part: no }) => `${of} ${no}`);
    expect(order.filter((of, index) => of !== order[index - 1])).toHaveLength(16);
  });

  test('an end beside them ends with all that it counts, or is refused; never with one that is not there', async () => {
    for (let round = 0; round < 6; round += 1) {
      const id = await opened();
      await send(id, 1, part(0, 300));
      const [second, again, ended] = await Promise.all([send(id, 2, part(300, 300)), send(id, 1, part(0, 300)), pause(round * 4).then(() => end(id, round % 2 === 0 ? 2 : 1))]);
      expect(again.status).toBe(200);
      const outcome = [second.status, ended.status];
      // The end counts both, or comes first and shuts the second out, or is refused for what it counts.
      expect(round % 2 === 0 ? [[200, 200], [200, 409]] : [[200, 409], [409, 200]]).toContainEqual(outcome);
      const { body } = await engineer().send('GET', `/api/signal-uploads/${id}`);
      expect(body).toMatchObject({ parts: [{ from: 1, to: second.status === 200 ? 2 : 1 }], endedWith: ended.status === 200 ? (second.status === 200 ? 2 : 1) : null });
    }
  });

  test('one that is there and comes again while its upload ends is there, not refused as too late', async () => {
    const id = await opened();
    const given = part(0, 2_000);
    const other = new Client({ connectionString: api().databaseUrl });
    await other.connect();
    const lock = (how: string): Promise<unknown> => other.query(`select pg_advisory_${how}(hashtextextended($1::text, 0))`, [id]);
    await lock('lock');
    // Both are past the look whether the part is there, and the first waits for the lock.
    const sent = [send(id, 1, given), send(id, 1, given)];
    await waitingForLock(other);
    await lock('unlock');
    // Granted once the first is stored, before the second asks.
    await lock('lock');
    await other.query('begin');
    await other.query("select set_config('app.actor', $1, true), set_config('app.request', 'other', true)", [engineer().personId]);
    await other.query("insert into signal_upload_end (upload_id, part_count, known_from, keyed_by, request_id) values ($1, 1, clock_timestamp(), $2, 'other')", [id, engineer().personId]);
    await other.query('commit');
    await other.end();
    expect(outcomes(await Promise.all(sent))).toEqual(['here', 'new']);
  });
});

async function waitingForLock(client: Client): Promise<void> {
  for (let tries = 0; tries < 1000; tries += 1) {
    const { rowCount } = await client.query("select 1 from pg_locks where locktype = 'advisory' and not granted and database = (select oid from pg_database where datname = current_database())");
    if ((rowCount ?? 0) > 0) return;
    await pause(2);
  }
  throw new Error('nobody waits for a lock');
}

/** Holds the lock of something, as another write does, while `work` runs. */
async function withHeldLock<T>(about: string, mode: 'shared' | 'exclusive', work: () => Promise<T>): Promise<T> {
  const client = new Client({ connectionString: api().databaseUrl });
  await client.connect();
  try {
    await client.query(`select pg_advisory_lock${mode === 'shared' ? '_shared' : ''}(hashtextextended($1::text, 0))`, [about]);
    return await work();
  } finally {
    await client.end();
  }
}

describe('what else holds the string', () => {
  test('a correction of the counter that lasts longer than a lock is waited for: the part is told to come again, and comes in then', async () => {
    const id = await opened();
    const answer = await withHeldLock(stringId(), 'exclusive', () => send(id, 1, part(0, 100)));
    expect(answer).toMatchObject({ status: 503, body: { type: 'urn:everymetre:problem:busy' }, headers: { 'retry-after': '2' } });
    expect(await send(id, 1, part(0, 100))).toMatchObject({ status: 200, body: { isNew: true } });
    await demandNoHole(100);
  });

  test('an upload is opened and ended with the same answer where something holds it', async () => {
    const id = await opened();
    await send(id, 1, part(0, 100));
    const content = { id: uuidv7(), ...upload(runId, [{ column: 'c0', channelId: channels[0] as string }]) };
    const told = { status: 503, headers: { 'retry-after': '2' } };
    expect(await withHeldLock(stringId(), 'exclusive', () => post('signal-uploads', content))).toMatchObject(told);
    expect(await withHeldLock(id, 'shared', () => end(id, 1))).toMatchObject(told);
    expect(await post('signal-uploads', content)).toMatchObject({ status: 201 });
    expect(await end(id, 1)).toMatchObject({ status: 200, body: { endedWith: 1 } });
  });

  test('corrections of the counter while parts come in: all are taken', async () => {
    const id = await opened();
    const corrections = (async () => {
      for (let version = 1; version <= 6; version += 1) expect(await amend('counter-periods', periodId, version, { scaleMmPerCount: `1.000${version}` })).toMatchObject({ status: 200 });
    })();
    const answers = await Promise.all(range(1, 25).map((no) => send(id, no, part(no * 1_000, 900))));
    await corrections;
    expect(outcomes(answers)).toEqual(Array.from({ length: 24 }, () => 'new'));
    await demandNoHole(24 * 900);
  });
});

const ENDED_CONNECTIONS = 40;

describe('a database that fails in the middle', () => {
  test('connections that are ended while parts are stored: each part is taken, or told to come again; none is half there', async () => {
    const id = await opened();
    const other = new Client({ connectionString: api().databaseUrl });
    await other.connect();
    let ended = 0;
    const ending = (async () => {
      while (ended < ENDED_CONNECTIONS) {
        const { rowCount } = await other.query(
          "select pg_terminate_backend(pid) from pg_stat_activity where datname = current_database() and application_name = 'everymetre' and pid <> pg_backend_pid() and xact_start is not null and state <> 'idle'",
        );
        ended += rowCount ?? 0;
        await pause(7);
      }
    })();
    const seen = new Set<number>();
    let no = 0;
    // Parts go on coming as long as connections are ended, four at a time, each until it is taken.
    const sender = async (): Promise<void> => {
      while (ended < ENDED_CONNECTIONS) {
        const own = (no += 1);
        for (let status = 0; status !== 200;) {
          ({ status } = await send(id, own, part(own * 1_000, 950)));
          seen.add(status);
        }
      }
    };
    await Promise.all([ending, sender(), sender(), sender(), sender()]);
    await other.end();
    expect([...seen].filter((status) => ![200, 503].includes(status))).toEqual([]);
    expect(seen).toContain(503);
    expect(await end(id, no)).toMatchObject({ status: 200 });
    await demandNoHole(no * 950);
  });

  test('no space left while blocks are written: it says so, leaves nothing, and the next part leaves no hole', async () => {
    const id = await opened();
    expect(await send(id, 1, part(0, 5_000))).toMatchObject({ status: 200, body: { isNew: true } });
    const full = "create function no_space() returns trigger language plpgsql as $$ begin raise exception 'no space left on device' using errcode = '53100'; end $$";
    await api().owner.query(full);
    await api().owner.query('create trigger no_space before insert on signal_block for each row when (new.level > 0) execute function no_space()');
    const before = await databaseState(api().owner);
    expect(await send(id, 2, part(5_000, 5_000))).toMatchObject({ status: 507, body: { type: 'urn:everymetre:problem:no-space' } });
    expect(await databaseState(api().owner)).toEqual(before);
    await api().owner.query('drop trigger no_space on signal_block');
    await api().owner.query('drop function no_space()');
    expect(await send(id, 2, part(5_000, 5_000))).toMatchObject({ status: 200, body: { isNew: true } });
    await demandNoHole(10_000);
  });
});

describe('a part whose bytes do not come as they should', () => {
  let url: URL;
  beforeAll(async () => { url = new URL(await api().listen()); });

  const head = (id: string, digest: string, more: string): string =>
    `PUT /api/signal-uploads/${id}/parts/1?firstAt=2026-03-02T06:10:00Z&lastAt=2026-03-02T06:11:00Z HTTP/1.1\r\nHost: x\r\nAuthorization: Bearer ${engineer().token}\r\n`
    + `Content-Type: application/vnd.apache.arrow.stream\r\nContent-Digest: ${digest}\r\n${more}\r\n\r\n`;
  const socketOf = async (): Promise<Socket> => {
    const socket = connect(Number(url.port), url.hostname);
    socket.on('error', () => undefined);
    await once(socket, 'connect');
    return socket;
  };
  const firstLine = async (socket: Socket): Promise<string> => {
    const [answer] = (await once(socket, 'data')) as [Buffer];
    return answer.toString('latin1').split('\r\n')[0] ?? '';
  };

  test('one said to be too large is refused before it is sent, and one that never ends once it is', async () => {
    const id = await opened();
    const digest = digestOfBytes(new Uint8Array());
    const declared = await socketOf();
    declared.write(head(id, digest, `Content-Length: ${20 * 2 ** 20}`));
    expect(await firstLine(declared)).toBe('HTTP/1.1 413 Payload Too Large');
    declared.destroy();
    const endless = await socketOf();
    endless.write(head(id, digest, 'Transfer-Encoding: chunked'));
    const chunk = Buffer.concat([Buffer.from('100000\r\n'), Buffer.alloc(2 ** 20), Buffer.from('\r\n')]);
    const timer = setInterval(() => { if (endless.writableLength < 2 ** 22) endless.write(chunk); }, 5);
    expect(await firstLine(endless)).toBe('HTTP/1.1 413 Payload Too Large');
    await new Promise((resolve) => { endless.once('close', resolve); });
    clearInterval(timer);
  });

  test('lines that are gone do not keep the others out: four parts that stand still, and a fifth', async () => {
    const [id, other] = [await opened(), await opened()];
    const silent = await Promise.all(range(0, 4).map(socketOf));
    const bytes = arrowPart(part(0, 100_000));
    for (const socket of silent) {
      socket.write(head(id, digestOfBytes(bytes), `Content-Length: ${bytes.length}`));
      socket.write(bytes.subarray(0, 50_000));
    }
    await pause(100);
    const begun = performance.now();
    expect(await send(other, 1, part(0, 4_000))).toMatchObject({ status: 200, body: { isNew: true } });
    expect(performance.now() - begun).toBeLessThan(5_000);
    for (const socket of silent) socket.destroy();
  });

  test('what does not come on is refused with 408, what is cut off with 400, each naming why', async () => {
    const slow = new PassThrough();
    const refused = partBody(slow, 'x', 1_000_000, { everyMs: 40, leastBytes: 100 });
    slow.write(Buffer.alloc(150));
    const drip = setInterval(() => slow.write(Buffer.alloc(10)), 10);
    await expect(refused).rejects.toMatchObject({ status: 408, code: 'too-slow', errors: [{ field: 'body', limit: 'at least 100 bytes in 0.04 s' }] });
    clearInterval(drip);
    slow.end();
    const cut = new PassThrough();
    const cutOff = partBody(cut, 'x', 1_000_000);
    cut.write(Buffer.alloc(10));
    setTimeout(() => { cut.destroy(); }, 5);
    await expect(cutOff).rejects.toMatchObject({ status: 400, code: 'cut-off' });
    await expect(partBody(cut, 'x', 1_000_000)).rejects.toMatchObject({ status: 400, code: 'cut-off' });
  });
});
