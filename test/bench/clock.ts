import { randomUUID } from 'node:crypto';
import { once } from 'node:events';
import { request, type ClientRequest, type IncomingMessage } from 'node:http';
import type pg from 'pg';
import pgDriver from 'pg';
import { v7 as uuidv7 } from 'uuid';
import type { Client } from './bench-string.js';
import { median } from './load.js';

const LINE_MM = 27_000;
const STEP_MM = 16;
/** Readings come so often. */
const EVERY_MS = 200;
const OPEN_INDICATIONS = 20;

async function posted({ url, token }: Client, path: string, body: object): Promise<string> {
  const id = uuidv7();
  const reply = await fetch(`${url}/api/${path}`, {
    method: 'POST', headers: { authorization: `Bearer ${token}`, 'content-type': 'application/json' }, body: JSON.stringify({ id, ...body }),
  });
  if (!reply.ok) throw new Error(`${path}: ${reply.status} ${await reply.text()}`);
  return id;
}

/** A string whose line runs at 4.8 m/min, with that many readings of its counter on record, 200 ms apart, up to now. */
export async function runningString(owner: pg.Client, client: Client, readings: number): Promise<string> {
  const at = { observedAt: '2026-01-01T00:00:00Z' };
  const wellId = await posted(client, 'wells', { ...at, name: 'Clock well', datum: 'Guide frame' });
  const stringId = await posted(client, 'casing-strings', {
    ...at, wellId, name: 'Clock string', footageLimitMm: 4_000_000, outsideDiameterMm: '127.0', wallThicknessMm: '5.00', lengthRatio: '0.985', lengthRatioU: '0.004',
  });
  await posted(client, 'line-setups', {
    ...at, stringId, viewing: 'down-the-hole', stations: [{ name: 'hang-off', role: 'hang-off', pathMinMm: LINE_MM, pathMaxMm: LINE_MM, uMm: '5' }],
  });
  await posted(client, 'counter-periods', { ...at, stringId, startReading: '0', startFootageMm: 0, scaleMmPerCount: '1', scaleRelativeU: '0.0005' });
  await enterReadings(owner, stringId, readings);
  const madeMm = readings * STEP_MM;
  for (let index = 0; index < OPEN_INDICATIONS; index += 1) {
    const footageMm = madeMm - LINE_MM + (index + 1) * 1_200;
    await posted(client, 'indications', { stringId, observedAt: new Date().toISOString(), from: { footageMm }, to: { footageMm: footageMm + 100 }, channelIds: [], method: 'VT' });
  }
  return stringId;
}

async function enterReadings(owner: pg.Client, stringId: string, count: number): Promise<void> {
  await owner.query('begin');
  await owner.query("select set_config('app.actor', (select id::text from person limit 1), true), set_config('app.request', 'bench', true)");
  await owner.query(
    `insert into counter_reading (id, version, known_from, entered_at, observed_at, state, done_by, keyed_by, source, marks, request_id, digest, string_id, counter, reading)
     select gen_random_uuid(), 1, now, now, now - (($2::int - n) * ${EVERY_MS} + 1000) * interval '1 millisecond', 'active', who.id, who.id, 'instrument', '[]', 'bench', '', $1::uuid,
            (select master_counter from casing_string where id = $1::uuid), (n * ${STEP_MM})::text::measured
       from generate_series(1, $2::int) as n, (select id from person limit 1) as who, clock_timestamp() as now`,
    [stringId, count],
  );
  await owner.query('commit');
}

export interface AskedClock {
  readonly keptMs: number;
  readonly afterReadingMs: number;
}

/** The question with nothing new, and right after a reading; medians, ms. */
export async function askClock(client: Client, stringId: string, fromMm: number): Promise<AskedClock> {
  const ask = async (): Promise<number> => {
    const begun = performance.now();
    await (await fetch(`${client.url}/api/casing-strings/${stringId}/hold-clock`, { headers: { authorization: `Bearer ${client.token}` } })).text();
    return performance.now() - begun;
  };
  for (let warm = 0; warm < 3; warm += 1) await ask();
  const [kept, after]: [number[], number[]] = [[], []];
  for (let round = 1; round <= 25; round += 1) {
    kept.push(await ask());
    await posted(client, 'counter-readings', { stringId, observedAt: new Date().toISOString(), reading: String(fromMm + round * STEP_MM) });
    after.push(await ask());
  }
  return { keptMs: median(kept), afterReadingMs: median(after) };
}

/** When a listener had first heard of each reading, by its number. */
class Listener {
  readonly heardAt: number[] = [];
  bytes = 0;
  private text = '';

  constructor(private readonly numbers: ReadonlyMap<string, number>, private readonly asked: ClientRequest, response: IncomingMessage) {
    response.setEncoding('utf8');
    response.on('data', (chunk: string) => { this.take(chunk); });
    response.on('error', () => undefined);
  }

  close(): void {
    this.asked.destroy();
  }

  /** A state says the last reading, and so stands for all before it. */
  private take(chunk: string): void {
    this.bytes += chunk.length;
    this.text += chunk;
    for (let end = this.text.indexOf('\n\n'); end >= 0; end = this.text.indexOf('\n\n')) {
      const id = /"lastReading":\{"id":"([0-9a-f-]{36})"/.exec(this.text.slice(0, Math.min(end, 3000)))?.[1];
      const number = id === undefined ? undefined : this.numbers.get(id);
      if (number !== undefined) while (this.heardAt.length <= number) this.heardAt.push(performance.now());
      this.text = this.text.slice(end + 2);
    }
  }
}

async function listen({ url, token }: Client, stringId: string, numbers: ReadonlyMap<string, number>): Promise<Listener> {
  const asked = request(`${url}/api/casing-strings/${stringId}/hold-clock/live`, { headers: { authorization: `Bearer ${token}` }, agent: false }).end();
  const [response] = await once(asked, 'response') as [IncomingMessage];
  if (response.statusCode !== 200) throw new Error(`a listener was answered ${response.statusCode ?? 0}`);
  return new Listener(numbers, asked, response);
}

export interface Listened {
  readonly readings: number;
  /** Listeners that did not hear the last state. */
  readonly lost: number;
  /** Of all listeners and readings, those that were heard more than a second after the reading was sent. */
  readonly late: number;
  readonly p50Ms: number;
  readonly p95Ms: number;
  readonly maxMs: number;
  readonly bytesAnEvent: number;
}

/** Readings at 5/s for some seconds, to so many listeners. Latency counts from before a reading is sent, which is before its commit. */
export async function listenedTo(client: Client, stringId: string, fromMm: number, { listeners: count, seconds }: { readonly listeners: number; readonly seconds: number }): Promise<Listened> {
  const numbers = new Map<string, number>();
  const listeners = await Promise.all(Array.from({ length: count }, () => listen(client, stringId, numbers)));
  await new Promise((resolve) => { setTimeout(resolve, 1000); });
  const sentAt: number[] = [];
  const begun = performance.now();
  const total = seconds * (1000 / EVERY_MS);
  for (let number = 0; number < total; number += 1) {
    const id = uuidv7();
    numbers.set(id, number);
    sentAt.push(performance.now());
    await posted(client, 'counter-readings', { id, stringId, observedAt: new Date().toISOString(), reading: String(fromMm + (number + 1) * STEP_MM) });
    await new Promise((resolve) => { setTimeout(resolve, Math.max(0, begun + (number + 1) * EVERY_MS - performance.now())); });
  }
  await new Promise((resolve) => { setTimeout(resolve, 3000); });
  for (const one of listeners) one.close();
  const latencies = listeners.flatMap(({ heardAt }) => heardAt.map((at, number) => at - (sentAt[number] ?? at))).sort((a, b) => a - b);
  const at = (share: number): number => latencies[Math.min(latencies.length - 1, Math.floor(share * latencies.length))] ?? NaN;
  return {
    readings: total, lost: listeners.filter(({ heardAt }) => heardAt.length < total).length, late: latencies.filter((ms) => ms > 1000).length,
    p50Ms: at(0.5), p95Ms: at(0.95), maxMs: at(1), bytesAnEvent: listeners.reduce((sum, { bytes }) => sum + bytes, 0) / count / total,
  };
}

const LINES = 8;
const WRITE_MS = 2000;

export interface TellCost {
  /** Readings a second, medians. */
  readonly silent: number;
  readonly unwatched: number;
  readonly watched: number;
}

/** Readings of eight strings from eight connections, each durable: without the trigger that tells of them, with it, and while all are watched. By turns. */
export async function tellCost(databaseUrl: string, owner: pg.Client, rounds: number): Promise<TellCost> {
  const strings = Array.from({ length: LINES }, () => randomUUID());
  await owner.query('create table bench_reading (like counter_reading including all)');
  await owner.query('grant insert on bench_reading to everymetre_app');
  const create = 'create trigger tell_string_news after insert on bench_reading for each row execute function tell_string_news()';
  const watch = "insert into string_watch select id, gen_random_uuid(), clock_timestamp() + interval '1 hour' from unnest($1::uuid[]) as id";
  const made: Record<keyof TellCost, number[]> = { silent: [], unwatched: [], watched: [] };
  await writes(databaseUrl, strings);
  for (let round = 0; round < rounds; round += 1) {
    made.silent.push(await writes(databaseUrl, strings));
    await owner.query(create);
    made.unwatched.push(await writes(databaseUrl, strings));
    await owner.query(watch, [strings]);
    made.watched.push(await writes(databaseUrl, strings));
    await owner.query('delete from string_watch where string_id = any($1)', [strings]);
    await owner.query('drop trigger tell_string_news on bench_reading');
  }
  return { silent: median(made.silent), unwatched: median(made.unwatched), watched: median(made.watched) };
}

/** How many a second. */
async function writes(connectionString: string, strings: readonly string[]): Promise<number> {
  let count = 0;
  const until = performance.now() + WRITE_MS;
  await Promise.all(strings.map(async (stringId) => {
    const line = new pgDriver.Client({ connectionString, options: '-c role=everymetre_app' });
    await line.connect();
    for (; performance.now() < until; count += 1) {
      await line.query(
        `insert into bench_reading (id, version, known_from, entered_at, observed_at, state, done_by, keyed_by, source, marks, request_id, digest, string_id, counter, reading)
         select gen_random_uuid(), 1, now, now, now, 'active', $1::uuid, $1::uuid, 'instrument', '[]', 'bench', '', $1::uuid, 'main', '1'::measured from clock_timestamp() as now`, [stringId],
      );
    }
    await line.end();
  }));
  return count / (WRITE_MS / 1000);
}
