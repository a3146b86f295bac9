import { connect } from 'node:net';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { startTestApi, type TestApi } from '../setup/api.js';

let api: TestApi;
beforeAll(async () => {
  api = await startTestApi();
});
afterAll(async () => {
  await api.close();
});

const json = { 'content-type': 'application/json' };

describe('whatever is wrong with a request is answered as problem details', () => {
  test.each([
    ['an unknown route', 'GET', '/api/nothing', {}, undefined, 404],
    ['a wrong method', 'DELETE', '/api/sign-in', {}, undefined, 405],
    ['malformed JSON', 'POST', '/api/sign-in', json, '{"name":', 400],
    ['no body', 'POST', '/api/sign-in', json, undefined, 400],
    ['a list for a body', 'POST', '/api/sign-in', json, '[]', 400],
    ['a prototype in the body', 'POST', '/api/sign-in', json, '{"__proto__":{"name":"x"}}', 400],
    ['a body nested too deep', 'POST', '/api/sign-in', json, `{"name":${'['.repeat(90_000)}${']'.repeat(90_000)}}`, 400],
    ['a body that is no JSON', 'POST', '/api/sign-in', { 'content-type': 'text/plain' }, 'hello', 415],
    ['a form', 'POST', '/api/sign-in', { 'content-type': 'application/x-www-form-urlencoded' }, 'name=x', 415],
    ['a body too large', 'POST', '/api/sign-in', json, `{"name":"${'x'.repeat(1_100_000)}"}`, 413],
    ['a repeated query key', 'GET', '/health/live?a=1&a=2', {}, undefined, 400],
    ['a query key that reaches into objects', 'GET', '/health/live?__proto__=1', {}, undefined, 400],
    ['a path that cannot be decoded', 'GET', '/api/wells/%zz', {}, undefined, 400],
    ['a parameter too long', 'GET', `/api/wells/${'a'.repeat(101)}`, {}, undefined, 414],
  ] as const)('%s', async (_, method, path, headers, body, expected) => {
    const reply = await api.send(method, path, { headers, body });
    expect(reply.status).toBe(expected);
    expect(reply.headers['content-type']).toBe('application/problem+json; charset=utf-8');
    expect(reply.body).toMatchObject({ status: expected, instance: path.split('?')[0] });
    expect(reply.body['type']).toMatch(/^urn:everymetre:problem:/);
    expect(reply.body['requestId']).toMatch(/^[0-9a-f-]{36}$/);
    expect(typeof reply.body['detail']).toBe('string');
  });

  test('a wrong method is told the right ones', async () => {
    expect((await api.send('PATCH', '/api/sign-in')).headers['allow']).toBe('POST');
  });

  test('what is no HTTP at all is answered too', async () => {
    const { hostname, port } = new URL(await api.listen());
    const answer = await new Promise<string>((resolve, reject) => {
      let text = '';
      const socket = connect(Number(port), hostname, () => socket.write('this is not HTTP\r\n\r\n'));
      socket.setEncoding('utf8').on('data', (part: string) => { text += part; });
      socket.on('end', () => { resolve(text); }).on('error', reject);
    });
    expect(answer).toMatch(/^HTTP\/1\.1 400 [^]*application\/problem\+json[^]*"status":400/);
  });
});

describe('request ids', () => {
  test('a printable short one is taken over, any other replaced', async () => {
    const idOf = async (given?: string): Promise<string | undefined> =>
      (await api.send('GET', '/health/live', given === undefined ? {} : { headers: { 'x-request-id': given } })).headers['x-request-id'];
    expect(await idOf('shift-7/42')).toBe('shift-7/42');
    const made = /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;
    expect(await idOf()).toMatch(made);
    expect(await idOf('x'.repeat(101))).toMatch(made);
    expect(await idOf('two words')).toMatch(made);
  });
});

describe('health', () => {
  test('live and ready', async () => {
    for (const path of ['/health/live', '/health/ready']) {
      expect(await api.send('GET', path)).toMatchObject({ status: 200, body: { status: 'ok' } });
    }
  });

  test('not ready while a migration is missing, and ready again', async () => {
    const taken: { id: number; timestamp: string; name: string }[] = await api.owner.query(
      'delete from migrations where id = (select max(id) from migrations) returning *',
    ).then((result: [never[]]) => result[0]);
    const reply = await api.send('GET', '/health/ready');
    expect(reply.status).toBe(503);
    expect(reply.body['detail']).toContain(taken[0]?.name);
    await api.owner.query('insert into migrations (id, timestamp, name) values ($1, $2, $3)', [
      taken[0]?.id, taken[0]?.timestamp, taken[0]?.name,
    ]);
    expect((await api.send('GET', '/health/ready')).status).toBe(200);
  });
});

describe('the API document', () => {
  test('is served with a page whose parts all come from here', async () => {
    const document = await api.send('GET', '/docs/openapi.json');
    expect(document.body).toMatchObject({ info: { title: 'Everymetre' }, components: { securitySchemes: { bearer: { scheme: 'bearer' } } } });
    const page = await api.send<string>('GET', '/docs');
    expect(page.headers['content-security-policy']).toContain("script-src 'self'");
    const parts = [...page.body.matchAll(/(?:src|href)="([^"]+)"/g)].map((match) => match[1] ?? '');
    expect(parts.length).toBeGreaterThan(3);
    for (const part of parts) {
      expect(part).toMatch(/^\.\/docs\//);
      expect((await api.send('GET', part.slice(1))).status).toBe(200);
    }
  });

  test('has the problem as the default answer of every route', async () => {
    const { body } = await api.send<{ paths: Record<string, Record<string, { responses: Record<string, unknown> }>> }>('GET', '/docs/openapi.json');
    const operations = Object.values(body.paths).flatMap((path) => Object.values(path));
    expect(operations.length).toBeGreaterThan(20);
    for (const { responses } of operations) expect(responses).toHaveProperty('default');
  });

  test('elsewhere nothing may run', async () => {
    const { headers } = await api.send('GET', '/health/live');
    expect(headers['content-security-policy']).toBe("default-src 'none';frame-ancestors 'none'");
    expect(headers['x-content-type-options']).toBe('nosniff');
  });
});
