import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { Controller, Get, Module } from '@nestjs/common';
import { DiscoveryModule } from '@nestjs/core';
import { Test } from '@nestjs/testing';
import { v7 as uuidv7 } from 'uuid';
import { Allow } from '../../apps/api/src/access/allow.decorator.js';
import { PermissionCheck } from '../../apps/api/src/access/permission-check.js';
import { PERMISSIONS, permits, ROLES, type Party } from '../../apps/api/src/access/permissions.js';
import { startTestApi, type Answer, type SendOptions, type SignedIn, type TestApi } from '../setup/api.js';
import { databaseState } from '../setup/database-state.js';
import type { Operation } from '../setup/document.js';
import { ExampleRecords, queryOf, requestOf, SIGNED, takesBytes } from '../setup/example-records.js';
import { permittedRoutes, type PermittedRoute } from '../setup/route-permissions.js';

/** Who asks: nobody known, a person of one role, or a line computer. */
interface Asker {
  readonly name: string;
  readonly parties: readonly Party[];
  /** True for a line computer of a string that is not the one asked about. */
  readonly isElsewhere: boolean;
  readonly token: () => Promise<string | null>;
}

interface Sample {
  readonly path: string;
  readonly options: SendOptions;
}

let api: TestApi;
let everyone: SignedIn;
let standing: ExampleRecords;
let routes: readonly PermittedRoute[];

beforeAll(async () => {
  api = await startTestApi();
  everyone = await api.signIn('qc-inspector', 'materials-engineer', 'administrator');
  standing = await wholeWorld();
  routes = permittedRoutes(api);
}, 60_000);
afterAll(async () => {
  await api.close();
});

const entry = ({ method, path }: PermittedRoute): string => `${method} ${path}`;

/** A request of this route that would be done if only it were allowed. */
async function sampleOf(route: PermittedRoute, records: ExampleRecords): Promise<Sample> {
  const operation = operationOf(route);
  const path = `${await records.pathOf(route.path)}${operation === undefined ? '' : queryOf(operation)}`;
  const options = operation === undefined ? {} : await bodyOf(operation, records);
  if (!route.path.includes('{id}')) return { path, options };
  const { body: record } = await everyone.send('GET', path.split('/').slice(0, 4).join('/'));
  // An upload has no versions.
  const version: Record<string, string> = typeof record['version'] === 'number' ? { 'if-match': `"${record['version']}"` } : {};
  return { path, options: { ...options, headers: { ...options.headers, ...version } } };
}

async function bodyOf(operation: Operation, records: ExampleRecords): Promise<SendOptions> {
  const request = requestOf(operation);
  const signed = SIGNED.find((kind) => operation.path === `/api/${kind}`);
  if (signed !== undefined) return { body: await records.body(signed) };
  if (request !== null) return { body: await records.withReferences(request.schema, request.example) };
  return takesBytes(operation) ? records.bytes(operation) : {};
}

const operationOf = ({ method, path }: PermittedRoute): Operation | undefined =>
  api.document.operations.find((operation) => operation.method === method && operation.path === path);

function send(route: PermittedRoute, { path, options }: Sample, token: string | null): Promise<Answer> {
  const authorization: Record<string, string> = token === null ? {} : { authorization: `Bearer ${token}` };
  const all = { ...options, headers: { ...options.headers, ...authorization } };
  // Passwords are guessed from elsewhere: whoever signs from here must not wait for it.
  return api.send(route.method as 'GET', path, isOwn(route) ? { ...all, address: '192.0.2.7' } : all);
}

/** Signing in, and changing the password, ask for the password itself: 401 when it is another one. */
const isOwn = ({ path }: PermittedRoute): boolean => path === '/api/sign-in' || path === '/api/me/password';

async function deviceToken(stringId: string, counters: readonly string[] = ['main']): Promise<string> {
  const body = { id: uuidv7(), observedAt: '2026-03-01T06:00:00Z', name: 'Line computer', stringId, counters, expiresAt: '2190-01-01T00:00:00Z', active: true };
  await everyone.send('POST', '/api/devices', { body });
  const { body: made } = await everyone.send('POST', `/api/devices/${body.id}/tokens`);
  return String(made['token']);
}

async function askers(): Promise<Asker[]> {
  const elsewhere = await deviceToken(await new ExampleRecords(api.document, everyone).id('casing-strings'));
  const people = new Map(await Promise.all(ROLES.map(async (role) => [role, await api.signIn(role)] as const)));
  const ended = await api.signIn(...ROLES);
  await ended.send('POST', '/api/sign-out');
  const always = (token: string | null) => (): Promise<string | null> => Promise.resolve(token);
  return [
    { name: 'nobody', parties: [], isElsewhere: false, token: always(null) },
    { name: 'ended session', parties: [], isElsewhere: false, token: always(ended.token) },
    // One of the routes ends the session that asks for it: whoever asked is then signed in anew.
    ...ROLES.map((role) => ({ name: role, parties: [role], isElsewhere: false, token: () => openToken(people, role) })),
    { name: 'device of another string', parties: ['device'], isElsewhere: true, token: always(elsewhere) },
  ];
}

async function openToken(people: Map<string, SignedIn>, role: (typeof ROLES)[number]): Promise<string> {
  const known = people.get(role)!;
  if ((await known.send('GET', '/api/me')).status === 200) return known.token;
  const again = await api.signIn(role);
  people.set(role, again);
  return again.token;
}

/** One record of each kind, apart from all others. */
async function wholeWorld(): Promise<ExampleRecords> {
  const records = new ExampleRecords(api.document, everyone);
  await records.makeAll();
  return records;
}

describe('every route, whoever asks', () => {
  test('is a route of the server with a permission of the table, and none is left out', () => {
    const served = api.routes.filter(({ method, path }) => method !== 'HEAD' && !path.startsWith('/docs'));
    expect(routes.map(entry).sort()).toEqual(served.map(({ method, path }) => `${method} ${path}`).sort());
    for (const { allowed } of routes) expect(['everyone', ...Object.keys(PERMISSIONS)]).toContain(allowed);
    const used = new Set(routes.map(({ allowed }) => allowed));
    expect(Object.keys(PERMISSIONS).filter((permission) => !used.has(permission as 'records:read'))).toEqual([]);
  });

  test('that is open to everyone is one of these', () => {
    expect(routes.filter(({ allowed }) => allowed === 'everyone').map(entry).sort()).toEqual([
      'GET /health/live', 'GET /health/ready', 'POST /api/sign-in',
    ]);
  });

  test('that changes anything names a permission to change it, and one that reads only to read', () => {
    for (const { method, path, allowed } of routes) {
      if (allowed === 'everyone') continue;
      const form = method === 'GET' ? /(:read|questions:ask)$/ : /(:write|:append|:sign|own-session:end|own-password:change)$/;
      expect({ path, allowed }).toEqual({ path, allowed: expect.stringMatching(form) });
    }
  });

  test('refuses exactly those whom the table does not name, and writes nothing for them', async () => {
    const counts: Record<string, Record<string, number>> = {};
    const surprises: string[] = [];
    for (const asker of await askers()) {
      const ask = async (route: PermittedRoute, records: ExampleRecords, isRight: (status: number) => boolean): Promise<void> => {
        const { status, body } = await send(route, await sampleOf(route, records), await asker.token());
        if (!isRight(status)) surprises.push(`${asker.name}, ${entry(route)}: ${status} ${String(body['detail'])}`);
        const row = (counts[asker.name] ??= {});
        row[status] = (row[status] ?? 0) + 1;
      };
      const passes = ({ allowed }: PermittedRoute): boolean =>
        allowed === 'everyone' || (permits(allowed, asker.parties) && !(asker.isElsewhere && /^(counter-reading:append|signal:append|signal-upload:read)$/.test(allowed)));
      const before = await databaseState(api.owner);
      const refused = routes.filter((route) => !passes(route));
      for (const route of refused) await ask(route, standing, (status) => status === (asker.parties.length === 0 ? 401 : 403));
      expect({ asker: asker.name, state: await databaseState(api.owner) }).toEqual({ asker: asker.name, state: before });
      const world = asker.parties.length === 0 ? standing : await wholeWorld();
      for (const route of routes.filter(passes)) await ask(route, world, (status) => status < 500 && (isOwn(route) || (status !== 401 && status !== 403)));
    }
    process.stdout.write(`authorisation, answers by asker and status: ${JSON.stringify(counts)}\n`);
    expect(surprises).toEqual([]);
  }, 240_000);

  test('lets no auditor write anywhere', async () => {
    const auditor = await api.signIn('auditor');
    const writes = routes.filter(({ method, path }) => method !== 'GET' && path !== '/api/sign-in' && !/^own-/.test(permissionOf(path)));
    const before = await databaseState(api.owner);
    for (const route of writes) {
      expect({ route, answer: await send(route, await sampleOf(route, standing), auditor.token) }).toMatchObject({ route, answer: { status: 403 } });
    }
    expect(await databaseState(api.owner)).toEqual(before);
    expect(writes.length).toBeGreaterThan(50);
  }, 120_000);

  const permissionOf = (path: string): string => routes.find((route) => route.path === path && route.method !== 'GET')?.allowed ?? '';
});

describe('a line computer', () => {
  const reading = (stringId: string, changes: object = {}): Record<string, unknown> => ({
    id: uuidv7(), observedAt: '2026-03-02T08:15:00Z', stringId, reading: '118500', counter: 'main', ...changes,
  });
  let own: string;
  let foreign: string;
  let token: string;

  beforeAll(async () => {
    const records = new ExampleRecords(api.document, everyone);
    own = await records.id('casing-strings');
    foreign = await new ExampleRecords(api.document, everyone).id('casing-strings');
    token = await deviceToken(own);
  });

  const append = (body: unknown, path = ''): Promise<Answer> =>
    api.send('POST', `/api/counter-readings${path}`, { body, headers: { authorization: `Bearer ${token}` } });

  test('appends readings of its own string and counter, one or many', async () => {
    expect(await append(reading(own))).toMatchObject({ status: 201, body: { source: 'instrument' } });
    expect((await append({ readings: [reading(own, { observedAt: '2026-03-02T08:16:00Z' })] }, '/batch')).status).toBe(201);
  });

  test.each([
    ['another string', () => reading(foreign)],
    ['another counter', () => reading(own, { counter: 'exit wheel' })],
    ['another source', () => reading(own, { source: 'paper' })],
    ['a string that does not exist', () => reading(uuidv7())],
  ])('is refused with 403 for %s, alone or in a batch, and writes nothing', async (_, body) => {
    const before = await databaseState(api.owner);
    expect((await append(body())).status).toBe(403);
    const batch = await append({ readings: [reading(own), body()] }, '/batch');
    expect([403, 422]).toContain(batch.status);
    expect(await databaseState(api.owner)).toEqual(before);
  });

  test('of another string is refused the same way', async () => {
    const other = await deviceToken(foreign);
    const headers = { authorization: `Bearer ${other}` };
    const before = await databaseState(api.owner);
    expect((await api.send('POST', '/api/counter-readings', { body: reading(own), headers })).status).toBe(403);
    expect(await databaseState(api.owner)).toEqual(before);
  });
});

describe('a route that names no permission', () => {
  @Controller('open')
  class OpenController {
    @Get()
    read(): string {
      return 'anything';
    }
  }

  @Controller('shut')
  class ShutController {
    @Get()
    @Allow('records:read')
    read(): string {
      return 'anything';
    }
  }

  const started = async (controller: new () => object): Promise<void> => {
    @Module({ imports: [DiscoveryModule], controllers: [controller], providers: [PermissionCheck] })
    class TinyModule {}
    const app = await Test.createTestingModule({ imports: [TinyModule] }).compile();
    await app.init();
    await app.close();
  };

  test('keeps the program from starting, and is named', async () => {
    await expect(started(OpenController)).rejects.toThrow('these routes name no permission: OpenController.read');
  });

  test('with one it starts', async () => {
    await expect(started(ShutController)).resolves.toBeUndefined();
  });
});
