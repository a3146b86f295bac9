import { subscribe, unsubscribe } from 'node:diagnostics_channel';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import type { FastifyInstance } from 'fastify';
import { startTestApi, type SignedIn, type TestApi } from '../setup/api.js';
import { sendBadRequests } from '../setup/bad-request-campaign.js';
import { badRequest, FAULTS, type BadRequest, type Target } from '../setup/bad-requests.js';
import type { Operation } from '../setup/document.js';
import { ExampleRecords, queryOf, requestOf, takesBytes, type Fields } from '../setup/example-records.js';
import { seedFromEnvironment } from '../setup/seed.js';

const LEAST = 2000;

let api: TestApi;
let everyone: SignedIn;

/** Two routes that no program should have: one fails, one writes and says that it refused. */
function plant(message: unknown): void {
  const { fastify } = message as { fastify: FastifyInstance };
  fastify.post('/planted/fails', () => {
    throw new Error('planted');
  });
  fastify.post('/planted/writes', async (_request, reply) => {
    await api.owner.query(`insert into number_series (name, last_number) values ('planted', 1)`);
    const problem = { type: 'urn:everymetre:problem:planted', title: 'Bad request', status: 400, detail: 'x', instance: '/planted/writes', requestId: 'x', errors: [] };
    return reply.status(400).header('content-type', 'application/problem+json').send(JSON.stringify(problem));
  });
}

beforeAll(async () => {
  subscribe('fastify.initialization', plant);
  api = await startTestApi();
  unsubscribe('fastify.initialization', plant);
  everyone = await api.signIn('qc-inspector', 'materials-engineer', 'administrator');
}, 30_000);
afterAll(async () => {
  await api.close();
});

/** A right request of each operation, on one record of each kind. */
async function targets(): Promise<Target[]> {
  const records = new ExampleRecords(api.document, everyone);
  await records.makeAll();
  const all: Target[] = [];
  for (const operation of api.document.operations) all.push(await targetOf(operation, records));
  return all;
}

async function targetOf(operation: Operation, records: ExampleRecords): Promise<Target> {
  const { path, method } = operation;
  const kind = path.split('/')[2] ?? '';
  const request = requestOf(operation);
  const body = request === null ? null : await bodyOf(request, method === 'PATCH' ? kind : null, records);
  const id = path.includes('{id}') ? await records.id(kind) : '';
  const url = `${await records.pathOf(path)}${queryOf(operation)}`;
  // The id and the string of a record stay: sent as they are, they are no fault.
  if (method === 'PATCH' && body !== null) Object.assign(body, await standing(kind, id));
  const target: Target = { operation, url, headers: id === '' ? {} : { 'if-match': '"1"' }, body, schema: request?.schema ?? null };
  return takesBytes(operation) ? { ...target, bytes: await records.bytes(operation) } : target;
}

/** An amendment brings every field that can be amended, so that each of them can be the one at fault. */
async function bodyOf({ schema, example }: NonNullable<ReturnType<typeof requestOf>>, amended: string | null, records: ExampleRecords): Promise<Fields> {
  if (amended === null) return (await records.withReferences(schema, example)) as Fields;
  const fields = Object.keys(api.document.resolve(schema).properties ?? {});
  const whole = Object.entries(await records.body(amended)).filter(([name]) => fields.includes(name));
  return { ...Object.fromEntries(whole), ...example };
}

async function standing(kind: string, id: string): Promise<Fields> {
  const { body } = await everyone.send('GET', `/api/${kind}/${id}`);
  return { id, ...('stringId' in body ? { stringId: body['stringId'] } : {}) };
}

/** Every fault of every operation that can have it, twice, and again until there are enough. */
function* drawn(all: readonly Target[], seed: number): Generator<BadRequest> {
  let count = 0;
  for (let round = 0; count < LEAST || round < 2; round += 1) {
    for (const [at, target] of all.entries()) {
      for (const [index, fault] of Object.keys(FAULTS).entries()) {
        const request = badRequest(fault, target, api.document, seed + round * 100_003 + at * 101 + index);
        if (request === null) continue;
        count += 1;
        yield request;
      }
    }
  }
}

test('no bad request of any route is taken, fails the program, writes anything or waits', async () => {
  const { seed = Date.now() % 1_000_000_000 } = seedFromEnvironment();
  const all = await targets();
  const before = heapInUse();
  const { sent, findings, counts, slowestMs, p99Ms } = await sendBadRequests(api, everyone, drawn(all, seed));
  const grownMb = Math.round((heapInUse() - before) / 1e6);
  process.stdout.write(
    `bad requests: seed ${seed}, ${sent} sent over ${all.length} operations, p99 ${p99Ms.toFixed(1)} ms, ` +
    `slowest ${slowestMs.toFixed(0)} ms, heap grown by ${grownMb} MB\n${table(counts)}\n`,
  );
  expect(findings.slice(0, 30)).toEqual([]);
  expect(sent).toBeGreaterThanOrEqual(LEAST);
  expect(grownMb).toBeLessThan(100);
  expect(Object.keys(counts).sort()).toEqual(Object.keys(FAULTS).sort());
}, 180_000);

/** Bytes of heap in use once all that is not needed any more is gone. */
function heapInUse(): number {
  setFlagsFromString('--expose-gc');
  const collect = runInNewContext('gc') as () => void;
  collect();
  return process.memoryUsage().heapUsed;
}

const table = (counts: Readonly<Record<string, Record<string, number>>>): string =>
  Object.entries(counts).map(([fault, row]) => `  ${fault}: ${Object.entries(row).map(([status, count]) => `${count} × ${status}`).join(', ')}`).join('\n');

test('a route that fails and one that writes are both noticed', async () => {
  const planted = (url: string): BadRequest => ({ fault: 'planted', method: 'POST', url, headers: {}, body: {} });
  const { findings } = await sendBadRequests(api, everyone, [planted('/planted/fails'), planted('/planted/writes')]);
  expect(findings.map(({ what }) => what)).toEqual([expect.stringContaining('answered 500'), 'wrote to number_series']);
});
