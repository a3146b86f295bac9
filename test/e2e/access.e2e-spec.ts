import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { startTestApi, TEST_PASSWORD, type Answer, type SignedIn, type TestApi } from '../setup/api.js';

let api: TestApi;
beforeAll(async () => {
  api = await startTestApi();
});
afterAll(async () => {
  await api.close();
});

const instant = '2026-03-02T08:15:00Z';

const signInAs = (name: string, password: string, address?: string): Promise<Answer> =>
  api.send('POST', '/api/sign-in', { body: { name, password }, address });

const bearer = (token: string): { headers: Record<string, string> } => ({ headers: { authorization: `Bearer ${token}` } });

const me = async (token: string): Promise<number> => (await api.send('GET', '/api/me', bearer(token))).status;

describe('signing in and out', () => {
  test('gives a token that works until it is signed out, and keeps only its digest', async () => {
    const { signInName, personId } = await api.signIn('qc-inspector');
    const { status, body } = await signInAs(signInName.toUpperCase(), TEST_PASSWORD);
    expect(status).toBe(200);
    expect(body).toMatchObject({ person: { id: personId, name: 'Test qc-inspector', roles: ['qc-inspector'] } });
    const hours = (Date.parse(body['expiresAt'] as string) - Date.now()) / 3_600_000;
    expect(hours).toBeGreaterThan(11.9);
    expect(hours).toBeLessThanOrEqual(12.01);

    const token = body['token'] as string;
    expect(token).toMatch(/^[A-Za-z0-9_-]{43}$/);
    const answer = await api.send('GET', '/api/me', bearer(token));
    expect(answer.body).toEqual({ id: personId, name: 'Test qc-inspector', roles: ['qc-inspector'] });
    const kept: unknown[] = await api.owner.query('select token_hash from session where token_hash = $1', [token]);
    expect(kept).toEqual([]);

    expect((await api.send('POST', '/api/sign-out', bearer(token))).status).toBe(204);
    expect(await me(token)).toBe(401);
  });

  test('a person has several sessions, and signing out ends one', async () => {
    const { signInName, token: first } = await api.signIn('auditor');
    const second = (await signInAs(signInName, TEST_PASSWORD)).body['token'] as string;
    await api.send('POST', '/api/sign-out', bearer(second));
    expect([await me(first), await me(second)]).toEqual([200, 401]);
  });

  test('a wrong password and an unknown name are refused alike', async () => {
    const { signInName } = await api.signIn('auditor');
    const wrong = await signInAs(signInName, 'wrong coil, wrong day', '192.0.2.1');
    const unknown = await signInAs('nobody of this name', TEST_PASSWORD, '192.0.2.2');
    expect(wrong.status).toBe(401);
    expect({ ...wrong.body, requestId: '' }).toEqual({ ...unknown.body, requestId: '' });
    expect(wrong.headers['www-authenticate']).toBe('Bearer');
  });

  test.each([
    ['no token', {}],
    ['another scheme', { authorization: 'Basic aWxrYTppbGth' }],
    ['a token of nobody', { authorization: `Bearer ${'A'.repeat(43)}` }],
    ['a device token of nobody', { authorization: `Bearer ${uuidv7()}.${'A'.repeat(43)}` }],
  ])('%s is 401', async (_, headers) => {
    const { status, body } = await api.send('GET', '/api/me', { headers });
    expect({ status, type: body['type'] }).toEqual({ status: 401, type: 'urn:everymetre:problem:sign-in' });
  });

  test('a session ends after 30 minutes without use, and after 12 hours', async () => {
    const idle = await api.signIn('auditor');
    const old = await api.signIn('auditor');
    await api.owner.query(`update session set seen_at = seen_at - interval '30 minutes' where person_id = $1`, [idle.personId]);
    await api.owner.query('update session set expires_at = clock_timestamp() where person_id = $1', [old.personId]);
    expect([await me(idle.token), await me(old.token)]).toEqual([401, 401]);
  });

  test('the use of a session is noted', async () => {
    const { personId, token } = await api.signIn('auditor');
    await api.owner.query(`update session set seen_at = seen_at - interval '20 minutes' where person_id = $1`, [personId]);
    expect(await me(token)).toBe(200);
    await expect(idleMinutes(personId)).resolves.toBeLessThan(1);
  });
});

/** The write is not waited for by the answer, so it is waited for here. */
async function idleMinutes(personId: string): Promise<number> {
  for (let tries = 0; ; tries += 1) {
    const rows: { minutes: number }[] = await api.owner.query(
      'select extract(epoch from clock_timestamp() - seen_at)::float8 / 60 as minutes from session where person_id = $1',
      [personId],
    );
    const minutes = rows[0]?.minutes ?? Infinity;
    if (minutes < 1 || tries === 100) return minutes;
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

describe('guessing', () => {
  test('is slowed down for the account, from whatever address, and other accounts go on', async () => {
    const { signInName } = await api.signIn('auditor');
    const { signInName: other } = await api.signIn('auditor');
    const statuses: number[] = [];
    for (let number = 1; number <= 5; number += 1) {
      statuses.push((await signInAs(signInName, 'a guess that is wrong', `198.51.100.${number}`)).status);
    }
    expect(statuses).toEqual([401, 401, 401, 401, 401]);
    const waiting = await signInAs(signInName, TEST_PASSWORD, '198.51.100.99');
    expect(waiting.status).toBe(429);
    expect(waiting.headers['retry-after']).toBe('1');
    expect((await signInAs(other, TEST_PASSWORD, '198.51.100.99')).status).toBe(200);
    await new Promise((resolve) => setTimeout(resolve, 1050));
    expect((await signInAs(signInName, TEST_PASSWORD, '198.51.100.99')).status).toBe(200);
  });

  test('is slowed down for the address, whatever the account, and other addresses go on', async () => {
    const { signInName } = await api.signIn('auditor');
    for (let number = 1; number <= 6; number += 1) await signInAs(`guess ${number}`, 'some password or other', '203.0.113.5');
    expect((await signInAs(signInName, TEST_PASSWORD, '203.0.113.5')).status).toBe(429);
    expect((await signInAs(signInName, TEST_PASSWORD, '203.0.113.6')).status).toBe(200);
  });

  test('sent all at once passes no more tries than one by one, but for the one beside it', async () => {
    const { signInName } = await api.signIn('auditor');
    const answers = await Promise.all(
      Array.from({ length: 20 }, (_, index) => signInAs(signInName, 'a guess that is wrong', `198.51.100.${100 + index}`)),
    );
    const counted = answers.filter(({ status }) => status === 401).length;
    expect(counted).toBeGreaterThanOrEqual(5);
    expect(counted).toBeLessThanOrEqual(6);
  });
});

describe('the own password', () => {
  test('is changed with the current one, which ends all own sessions', async () => {
    const { signInName, token, send } = await api.signIn('auditor');
    const other = (await signInAs(signInName, TEST_PASSWORD)).body['token'] as string;
    const next = 'a dry wind from the hills';
    const change = (current: string, wanted: string): Promise<Answer> =>
      send('POST', '/api/me/password', { body: { current, next: wanted } });

    expect((await change('not the current one', next)).status).toBe(401);
    const short = await change(TEST_PASSWORD, 'too short');
    expect(short.status).toBe(422);
    expect(short.body['errors']).toEqual([{ field: 'next', value: null, limit: '15 to 128 characters' }]);
    expect((await change(TEST_PASSWORD, 'passwordpassword')).status).toBe(422);
    expect((await change(TEST_PASSWORD, TEST_PASSWORD)).status).toBe(422);
    expect(await me(token)).toBe(200);

    expect((await change(TEST_PASSWORD, next)).status).toBe(204);
    expect([await me(token), await me(other)]).toEqual([401, 401]);
    expect((await signInAs(signInName, TEST_PASSWORD)).status).toBe(401);
    expect((await signInAs(signInName, next)).status).toBe(200);
  });
});

describe('people', () => {
  const password = 'six drums of clean water';
  const person = (signInName: string, roles: string[]): Record<string, unknown> => ({
    id: uuidv7(), observedAt: instant, name: 'Rasmus Feld', signInName, roles, active: true,
  });

  test('a new person signs in with the first password, which is kept nowhere but as a hash', async () => {
    const administrator = await api.signIn('administrator');
    const body = { ...person('rasmus', ['qc-inspector']), password };
    const headers = { 'idempotency-key': 'new-person' };
    const made = await administrator.send('POST', '/api/people', { body, headers });
    expect(made.status).toBe(201);
    expect(made.body).not.toHaveProperty('password');
    expect((await administrator.send('POST', '/api/people', { body, headers })).body).toEqual(made.body);
    expect((await signInAs('Rasmus', password)).status).toBe(200);

    const tables: { name: string }[] = await api.owner.query(
      `select tablename as name from pg_tables where schemaname = 'public'`,
    );
    for (const { name } of tables) {
      const found: unknown[] = await api.owner.query(`select 1 from ${name} t where strpos(t::text, $1) > 0`, [password]);
      expect({ name, found }).toEqual({ name, found: [] });
    }
    const history = await administrator.send('GET', `/api/people/${String(made.body['id'])}/history`);
    expect(JSON.stringify(history.body)).not.toContain('password');
  });

  test.each([
    ['without a password', {}, 'password'],
    ['with a short one', { password: 'fourteen chars' }, 'password'],
    ['with a number for one', { password: 123456789012345 }, 'password'],
    ['with no role', { password, roles: [] }, 'roles'],
    ['with a role twice', { password, roles: ['auditor', 'auditor'] }, 'roles'],
    ['with a field too many', { password, admin: true }, 'admin'],
  ])('a person %s is refused, and no password is echoed', async (_, part, field) => {
    const { send } = await api.signIn('administrator');
    const { status, body } = await send('POST', '/api/people', { body: { ...person('nobody', ['auditor']), ...part } });
    expect([400, 422]).toContain(status);
    const errors = body['errors'] as { field: string; value: unknown }[];
    expect(errors.map((error) => error.field)).toEqual([field]);
    if (field === 'password') expect(errors[0]?.value).toBeNull();
  });

  test.each([
    ['a changed role', 401, { roles: ['auditor'] }],
    ['deactivation', 401, { active: false }],
    ['a changed name', 200, { name: 'Rasmus Feldmann' }],
  ])('after %s their session answers %i at once', async (_, expected, change) => {
    const administrator = await api.signIn('administrator');
    const other = await api.signIn('qc-inspector');
    expect(await me(other.token)).toBe(200);
    const amended = await administrator.send('PATCH', `/api/people/${other.personId}`, {
      body: { reason: 'New duties.', ...change }, headers: { 'if-match': '"1"' },
    });
    expect(amended.status).toBe(200);
    expect(await me(other.token)).toBe(expected);
  });

  test('a withdrawn person is out at once', async () => {
    const administrator = await api.signIn('administrator');
    const other = await api.signIn('qc-inspector');
    const headers = { 'if-match': '"1"' };
    await administrator.send('POST', `/api/people/${other.personId}/void`, { body: { reason: 'Entered twice.' }, headers });
    expect(await me(other.token)).toBe(401);
    expect((await signInAs(other.signInName, TEST_PASSWORD)).status).toBe(401);
  });

  test('nobody changes their own roles', async () => {
    const { personId, send } = await api.signIn('administrator');
    const headers = { 'if-match': '"1"' };
    for (const change of [{ roles: ['administrator', 'auditor'] }, { active: false }]) {
      const { status, body } = await send('PATCH', `/api/people/${personId}`, { body: { reason: 'I want to.', ...change }, headers });
      expect({ status, type: body['type'] }).toEqual({ status: 403, type: 'urn:everymetre:problem:own-access' });
    }
    expect((await send('POST', `/api/people/${personId}/void`, { body: { reason: 'I go.' }, headers })).status).toBe(403);
  });

  test('two administrators who take each other out at once leave one in', async () => {
    const [one, two] = [await api.signIn('administrator'), await api.signIn('administrator')];
    const rest: { id: string }[] = await api.owner.query(
      `select id from person where known_until is null and active and 'administrator' = any(roles) and id not in ($1, $2)`,
      [one.personId, two.personId],
    );
    const out = (by: typeof one, id: string): Promise<Answer> =>
      by.send('PATCH', `/api/people/${id}`, { body: { reason: 'Leaves.', active: false }, headers: { 'if-match': '"1"' } });
    for (const { id } of rest) expect((await out(one, id)).status).toBe(200);
    const answers = await Promise.all([out(one, two.personId), out(two, one.personId)]);
    const left: unknown[] = await api.owner.query(
      `select 1 from person where known_until is null and active and 'administrator' = any(roles)`,
    );
    expect(answers.filter(({ status }) => status === 200)).toHaveLength(1);
    expect(left).toHaveLength(1);
  });
});

describe('revocation in another process', () => {
  test('is heard of here, though the token was remembered', async () => {
    const { personId, token } = await api.signIn('auditor');
    expect(await me(token)).toBe(200);
    await api.owner.transaction(async (manager) => {
      await manager.query('update session set ended_at = clock_timestamp() where person_id = $1', [personId]);
      await manager.query("select pg_notify('access_changed', '')");
    });
    expect(await untilRefused(token, 500)).toBe(true);
  });

  test('counts at once while its news cannot be heard, and the news comes back', async () => {
    const lost = await api.signIn('auditor');
    expect(await me(lost.token)).toBe(200);
    const listeners = `from pg_stat_activity where application_name = 'everymetre access news' and datname = current_database()`;
    await api.owner.query(`select pg_terminate_backend(pid) ${listeners}`);
    await new Promise((resolve) => setTimeout(resolve, 100));
    await api.owner.query('update session set ended_at = clock_timestamp() where person_id = $1', [lost.personId]);
    expect(await me(lost.token)).toBe(401);

    let back: unknown[] = [];
    for (let tries = 0; tries < 100 && back.length === 0; tries += 1) {
      await new Promise((resolve) => setTimeout(resolve, 50));
      back = await api.owner.query(`select 1 ${listeners}`);
    }
    expect(back).toHaveLength(1);
  });
});

async function untilRefused(token: string, longestMs: number): Promise<boolean> {
  const end = performance.now() + longestMs;
  while (performance.now() < end) {
    if ((await me(token)) === 401) return true;
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
  return false;
}

describe('device tokens', () => {
  const tokenDigests = async (): Promise<string> =>
    JSON.stringify(await api.owner.query('select * from device_secret'));

  /** A device on a new string of a new well, and somebody who may manage it. */
  async function newDevice(): Promise<{ id: string; administrator: SignedIn }> {
    const engineer = await api.signIn('materials-engineer');
    const administrator = await api.signIn('administrator');
    const enter = async (by: SignedIn, path: string, body: object): Promise<string> => {
      const id = uuidv7();
      const made = await by.send('POST', `/api/${path}`, { body: { id, observedAt: instant, ...body } });
      expect(made.status).toBe(201);
      return id;
    };
    const wellId = await enter(engineer, 'wells', { name: `Well ${uuidv7()}`, datum: 'Top of the guide frame' });
    const stringId = await enter(engineer, 'casing-strings', {
      wellId, name: 'Main string', footageLimitMm: 4_000_000, outsideDiameterMm: '127.0', wallThicknessMm: '5.00',
      lengthRatio: '0.985', lengthRatioU: '0.004',
    });
    const id = await enter(administrator, 'devices', {
      name: 'Line computer', stringId, counters: ['main'], expiresAt: '2199-01-01T00:00:00Z', active: true,
    });
    return { id, administrator };
  }

  const newToken = async (id: string, by: SignedIn): Promise<string> =>
    (await by.send('POST', `/api/devices/${id}/tokens`)).body['token'] as string;

  /** 403 shows that the token is known and what it asks for is not for devices; 401 that it is not valid. */
  const reads = async (token: string): Promise<number> => (await api.send('GET', '/api/wells', bearer(token))).status;

  test('open nothing but appending, and only their digest is kept', async () => {
    const { id, administrator } = await newDevice();
    const token = await newToken(id, administrator);
    const [secretId = '', secret = ''] = token.split('.');
    expect(secret).toMatch(/^[A-Za-z0-9_-]{43}$/);
    expect([await reads(token), await me(token)]).toEqual([403, 403]);
    expect(await reads(`${uuidv7()}.${secret}`)).toBe(401);
    expect(await reads(`${secretId}.${'A'.repeat(43)}`)).toBe(401);
    expect(await tokenDigests()).not.toContain(secret);
  });

  test('are valid two at a time, and end together', async () => {
    const { id, administrator } = await newDevice();
    const tokens = [await newToken(id, administrator), await newToken(id, administrator), await newToken(id, administrator)];
    expect(await Promise.all(tokens.map(reads))).toEqual([401, 403, 403]);
    expect((await administrator.send('POST', `/api/devices/${id}/tokens/end`)).body).toEqual({ ended: 2 });
    expect(await Promise.all(tokens.map(reads))).toEqual([401, 401, 401]);
  });

  test.each([
    ['is deactivated', { active: false }],
    ['expires', { expiresAt: '2026-03-03T00:00:00Z' }],
  ])('end when their device %s', async (_, change) => {
    const { id, administrator } = await newDevice();
    const token = await newToken(id, administrator);
    expect(await reads(token)).toBe(403);
    const options = { body: { reason: 'No longer at the line.', ...change }, headers: { 'if-match': '"1"' } };
    expect((await administrator.send('PATCH', `/api/devices/${id}`, options)).status).toBe(200);
    expect(await reads(token)).toBe(401);
  });

  test('are made by administrators only, and devices are read by them and auditors', async () => {
    const { id } = await newDevice();
    const inspector = await api.signIn('qc-inspector');
    expect((await inspector.send('POST', `/api/devices/${id}/tokens`)).status).toBe(403);
    expect((await inspector.send('GET', `/api/devices/${id}`)).status).toBe(403);
    expect((await (await api.signIn('auditor')).send('GET', `/api/devices/${id}`)).status).toBe(200);
  });
});
