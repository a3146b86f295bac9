import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { startTestApi, type Answer, type SignedIn, type TestApi } from '../setup/api.js';

type Fields = Record<string, unknown>;
type Method = 'GET' | 'POST' | 'PATCH';

const at = '2026-03-02T08:15:00Z';
let api: TestApi;
let engineer: SignedIn;
let wellId: string;
let heatId: string;

beforeAll(async () => {
  api = await startTestApi();
  engineer = await api.signIn('materials-engineer');
  wellId = await made('wells', { name: 'Lindmoor Geothermal 2', datum: 'Top of the guide frame' });
  heatId = await made('heats', { number: 'H40711', grade: 'S420MC' });
});
afterAll(() => api.close());

async function send(method: Method, path: string, body?: Fields, headers: Record<string, string> = {}): Promise<Answer> {
  return engineer.send(method, `/api/${path}`, { body, headers });
}

/** One field of each object in a list of an answer. */
const each = (answer: Answer, list: 'items' | 'errors' | 'versions', field: string): unknown[] =>
  (answer.body[list] as Fields[]).map((entry) => entry[field]);

/** The id of a record just entered. */
async function made(path: string, content: Fields): Promise<string> {
  const id = uuidv7();
  expect(await send('POST', path, { id, observedAt: at, ...content })).toMatchObject({ status: 201 });
  return id;
}

let drawn = 0;
const another = (prefix: string): string => `${prefix}-${String((drawn += 1)).padStart(2, '0')}`;

/** 7,850 kg of 400 mm by 5 mm strip is 500 m long. */
const coil = (changes: Fields = {}): Fields => ({
  number: another('LM'), heatId, widthMm: '400.0', thicknessMm: '5.00', massKg: '7850', ...changes,
});

const casingString = (changes: Fields = {}): Fields => ({
  wellId, name: another('Lindmoor 2 string'), footageLimitMm: 4_000_000, outsideDiameterMm: '127.0', wallThicknessMm: '5.00',
  lengthRatio: '0.985', lengthRatioU: '0.004', ...changes,
});

const station = (mdM: string, inclinationDeg: string): Fields => ({ mdM, inclinationDeg, azimuthDeg: '41.30' });

const survey = (changes: Fields = {}): Fields => ({
  wellId, tool: 'Gyro, multishot', stations: [station('0', '80.00'), station('30.50', '78.25')], ...changes,
});

const rowsOf = async (table: string): Promise<number> => {
  const rows: { count: string }[] = await api.dataSource.query(`select count(*) from ${table}`);
  return Number(rows[0]?.count);
};

describe('each kind comes back as it was entered, digits and all', () => {
  const whole: [string, () => Fields][] = [
    ['casing-strings', () => casingString({ masterCounter: 'weld', diameterRatio: '1.160', diameterRatioU: '0.010', note: 'To 1,950 m' })],
    ['heats', () => ({ number: another('H'), steelmaker: 'Tarnwick Steelworks', grade: 'S420MC', castOn: '2026-01-14' })],
    ['certificates', () => ({ number: another('TS'), issuer: 'Tarnwick Steelworks', documentType: '3.1', issuedOn: '2026-01-22', note: null })],
    ['coils', () => coil({ lengthMm: 500_000, cropMm: 1200, restMm: 30_000, note: 'Edge mark' })],
    ['surveys', () => survey({ tieIn: { northM: '1.50', eastM: '-2', tvdM: '0.000' }, note: 'Grid north' })],
  ];

  test.each(whole)('%s', async (path, content) => {
    const given = content();
    const id = await made(path, given);
    const answer = await send('GET', `${path}/${id}`);
    expect(answer).toMatchObject({ status: 200, headers: { etag: '"1"' } });
    expect(answer.body).toMatchObject({ ...given, id, version: 1, state: 'active', marks: [], observedAt: '2026-03-02T08:15:00.000000Z' });
  });

  test('what was left out comes back with its standard value', async () => {
    const stringId = await made('casing-strings', casingString());
    expect((await send('GET', `casing-strings/${stringId}`)).body).toMatchObject({ masterCounter: 'main', diameterRatio: null });
    const coilId = await made('coils', coil());
    expect((await send('GET', `coils/${coilId}`)).body).toMatchObject({ certificateId: null, lengthMm: null, cropMm: 0, restMm: 0 });
    const surveyId = await made('surveys', survey({ tieIn: { tvdM: '1.2' } }));
    expect((await send('GET', `surveys/${surveyId}`)).body).toMatchObject({ tieIn: { northM: '0', eastM: '0', tvdM: '1.2' } });
  });
});

describe('lists', () => {
  test('come in pages, filtered, without void records unless asked for', async () => {
    const heat = await made('heats', { number: another('H'), grade: 'S420MC' });
    const ids: string[] = [];
    for (let index = 0; index < 3; index += 1) ids.push(await made('coils', coil({ heatId: heat })));
    const first = await send('GET', `coils?heatId=${heat}&limit=2`);
    expect(each(first, 'items', 'id')).toEqual(ids.slice(0, 2));
    const second = await send('GET', `coils?heatId=${heat}&limit=2&after=${String(first.body.next)}`);
    expect(second.body).toMatchObject({ items: [{ id: ids[2] }], next: null });

    await send('POST', `coils/${String(ids[0])}/void`, { reason: 'Entered twice' }, { 'if-match': '"1"' });
    expect((await send('GET', `coils?heatId=${heat}`)).body.items).toHaveLength(2);
    expect((await send('GET', `coils?heatId=${heat}&includeVoid=true`)).body.items).toHaveLength(3);
  });

  test('a string and a survey are found by their well, a coil by its certificate', async () => {
    const well = await made('wells', { name: another('Lindmoor'), datum: 'Top' });
    const certificateId = await made('certificates', { number: another('TS'), issuer: 'Tarnwick', documentType: '2.2', issuedOn: '2026-01-22' });
    const stringId = await made('casing-strings', casingString({ wellId: well }));
    const surveyId = await made('surveys', survey({ wellId: well }));
    const coilId = await made('coils', coil({ certificateId }));
    const found = async (query: string): Promise<unknown> => each(await send('GET', query), 'items', 'id');
    expect(await found(`casing-strings?wellId=${well}`)).toEqual([stringId]);
    expect(await found(`surveys?wellId=${well}`)).toEqual([surveyId]);
    expect(await found(`coils?certificateId=${certificateId}`)).toEqual([coilId]);
  });

  test('a filter that is not known is refused by name', async () => {
    expect(await send('GET', `heats?wellId=${wellId}`)).toMatchObject({ status: 400, body: { errors: [{ field: 'wellId' }] } });
  });
});

describe('amendments', () => {
  test('make a version, and the old one stays known at its time', async () => {
    const id = await made('coils', coil({ note: 'Edge mark' }));
    const before = await send('GET', `coils/${id}`);
    const amended = await send('PATCH', `coils/${id}`, { reason: 'Weighed again', massKg: '7900', note: null }, { 'if-match': '"1"' });
    expect(amended).toMatchObject({ status: 200, headers: { etag: '"2"' }, body: { version: 2, massKg: '7900', note: null, reason: 'Weighed again' } });
    const then = await send('GET', `coils/${id}?asKnownAt=${String(before.body.recordedAt)}`);
    expect(then.body).toMatchObject({ version: 1, massKg: '7850', note: 'Edge mark', knownUntil: amended.body.recordedAt });
    expect((await send('GET', `coils/${id}?asKnownAt=2026-03-01T00:00:00Z`)).status).toBe(404);

    const history = await send('GET', `coils/${id}/history`);
    expect(history.body.versions).toMatchObject([
      { version: 1, action: 'created', changes: [] },
      {
        version: 2, action: 'amended', keyedBy: engineer.personId, reason: 'Weighed again',
        changes: [{ field: 'massKg', before: '7850', after: '7900' }, { field: 'note', before: 'Edge mark', after: null }],
      },
    ]);
  });

  test('need the version they amend, and tell what changed since an older one', async () => {
    const id = await made('casing-strings', casingString());
    const change = { reason: 'Measured at the tie', lengthRatio: '0.990' };
    expect(await send('PATCH', `casing-strings/${id}`, change)).toMatchObject({ status: 428, body: { errors: [{ field: 'If-Match' }] } });
    await send('PATCH', `casing-strings/${id}`, change, { 'if-match': '"1"' });
    expect(await send('PATCH', `casing-strings/${id}`, { reason: 'Again', note: 'x' }, { 'if-match': '"1"' })).toMatchObject({
      status: 412, body: { currentVersion: 2, reason: 'Measured at the tie', changes: [{ field: 'lengthRatio', before: '0.985', after: '0.990' }] },
    });
    expect((await send('GET', `casing-strings/${id}`)).body.version).toBe(2);
  });

  test('a withdrawn record stays readable, is not amended, and frees its number', async () => {
    const content = coil();
    const id = await made('coils', content);
    const gone = await send('POST', `coils/${id}/void`, { reason: 'Entered twice' }, { 'if-match': '"1"' });
    expect(gone).toMatchObject({ status: 200, body: { version: 2, state: 'void', reason: 'Entered twice' } });
    expect((await send('GET', `coils/${id}`)).body.state).toBe('void');
    expect(each(await send('GET', `coils/${id}/history`), 'versions', 'action')).toEqual(['created', 'voided']);
    expect((await send('PATCH', `coils/${id}`, { reason: 'Too late', note: 'x' }, { 'if-match': '"2"' })).status).toBe(409);
    await made('coils', content);
  });

  test('a corrected station changes the stations and nothing else', async () => {
    const id = await made('surveys', survey());
    const stations = [station('0', '80.00'), station('30.50', '78.52')];
    const amended = await send('PATCH', `surveys/${id}`, { reason: 'Digits swapped', stations }, { 'if-match': '"1"' });
    expect(amended).toMatchObject({ status: 200, body: { stations, tieIn: { northM: '0', eastM: '0', tvdM: '0' } } });
    const rising = [station('30.50', '80.00'), station('0', '78.52')];
    expect(await send('PATCH', `surveys/${id}`, { reason: 'Turned round', stations: rising }, { 'if-match': '"2"' })).toMatchObject({
      status: 422, body: { errors: [{ field: 'stations[1].mdM', value: '0', limit: 'deeper than the station above, at 30.50 m' }] },
    });
    expect((await send('GET', `surveys/${id}/history`)).body['versions']).toMatchObject([
      {}, { changes: [{ field: 'stations', before: [station('0', '80.00'), station('30.50', '78.25')], after: stations }] },
    ]);
  });

  test('a changed string marks its length models as old; an entered one has none', async () => {
    const id = await made('casing-strings', casingString());
    const revision = async (): Promise<unknown> => api.dataSource.query('select revision::int from string_revision where string_id = $1', [id]);
    expect(await revision()).toEqual([]);
    await send('PATCH', `casing-strings/${id}`, { reason: 'Measured', lengthRatio: '0.99' }, { 'if-match': '"1"' });
    expect(await revision()).toEqual([{ revision: 1 }]);
    await send('POST', `casing-strings/${id}/void`, { reason: 'Wrong well' }, { 'if-match': '"2"' });
    expect(await revision()).toEqual([{ revision: 2 }]);
  });

  test('an amendment of a string waits for whoever writes on the string', async () => {
    const id = await made('casing-strings', casingString());
    const other = api.dataSource.createQueryRunner();
    await other.connect();
    await other.startTransaction();
    await other.query('select pg_advisory_xact_lock_shared(hashtextextended($1, 0))', [id]);
    const change = { reason: 'Measured', lengthRatio: '0.99' };
    const amended = send('PATCH', `casing-strings/${id}`, change, { 'if-match': '"1"' });
    const waited = await Promise.race([amended.then(() => 'answered'), new Promise((resolve) => setTimeout(resolve, 200, 'waiting'))]);
    await other.rollbackTransaction();
    await other.release();
    expect(waited).toBe('waiting');
    expect((await amended).status).toBe(200);
  });
});

describe('repeated requests', () => {
  test('the same id and content give the first answer, other content is refused with what differs', async () => {
    const body = { id: uuidv7(), observedAt: at, ...coil() };
    const first = await send('POST', 'coils', body);
    expect(await send('POST', 'coils', body)).toMatchObject({ status: 201, body: first.body });
    const other = await send('POST', 'coils', { ...body, massKg: '7900' });
    expect(other.status).toBe(409);
    expect(other.body.errors).toEqual([{ field: 'massKg', value: '7900', limit: 'was "7850"' }]);
    expect((await send('GET', `coils/${body.id}`)).body).toEqual(first.body);
  });

  test('a survey sent again under its id with one station moved names the stations alone', async () => {
    const body = { id: uuidv7(), observedAt: at, ...survey() };
    await send('POST', 'surveys', body);
    const moved = { ...body, stations: [station('0', '80.00'), station('31.50', '78.25')] };
    expect(each(await send('POST', 'surveys', moved), 'errors', 'field')).toEqual(['stations']);
  });

  test('an idempotency key has one effect and one answer, and serves one request', async () => {
    const key = { 'idempotency-key': uuidv7() };
    const body = { observedAt: at, number: another('H'), grade: 'S420MC' };
    const count = await rowsOf('heat');
    const first = await send('POST', 'heats', body, key);
    expect(await send('POST', 'heats', body, key)).toMatchObject({ status: 201, body: first.body });
    expect(await send('POST', 'heats', { ...body, grade: 'S355MC' }, key)).toMatchObject({
      status: 422, body: { errors: [{ field: 'Idempotency-Key' }] },
    });
    expect(await rowsOf('heat')).toBe(count + 1);
  });

  test('an amendment repeated under its key is made once', async () => {
    const id = await made('coils', coil());
    const headers = { 'if-match': '"1"', 'idempotency-key': uuidv7() };
    const first = await send('PATCH', `coils/${id}`, { reason: 'Weighed again', massKg: '7900' }, headers);
    expect(await send('PATCH', `coils/${id}`, { reason: 'Weighed again', massKg: '7900' }, headers)).toMatchObject({ status: 200, body: first.body });
    expect((await send('GET', `coils/${id}`)).body.version).toBe(2);
  });

  test('a record without an id or a key is refused', async () => {
    expect(await send('POST', 'heats', { observedAt: at, number: another('H'), grade: 'S420MC' })).toMatchObject({
      status: 400, body: { errors: [{ field: 'id' }] },
    });
  });
});

describe('refusals write nothing and name the field', () => {
  /** The field a refused entry names; fails when a row was written. */
  async function refusedAt(path: string, table: string, content: Fields): Promise<{ status: number; fields: unknown[] }> {
    const count = await rowsOf(table);
    const answer = await send('POST', path, { id: uuidv7(), observedAt: at, ...content });
    expect(await rowsOf(table)).toBe(count);
    return { status: answer.status, fields: each(answer, 'errors', 'field') };
  }

  test('a name or number that is taken, in any case of letters', async () => {
    const string = casingString();
    await made('casing-strings', string);
    expect(await refusedAt('casing-strings', 'casing_string', { ...string, name: String(string['name']).toUpperCase() })).toEqual({ status: 409, fields: ['name'] });
    expect(await refusedAt('heats', 'heat', { number: 'h40711', grade: 'S355MC' })).toEqual({ status: 409, fields: ['number'] });
    const first = coil();
    await made('coils', first);
    expect(await refusedAt('coils', 'coil', coil({ number: first['number'] }))).toEqual({ status: 409, fields: ['number'] });
    const paper = { number: another('TS'), issuer: 'Tarnwick Steelworks', documentType: '3.1', issuedOn: '2026-01-22' };
    await made('certificates', paper);
    expect(await refusedAt('certificates', 'certificate', paper)).toEqual({ status: 409, fields: ['number'] });
    await made('certificates', { ...paper, issuer: 'Ostermoor Slitting' });
  });

  test('a reference to nothing, to another kind, or to a void record', async () => {
    expect(await refusedAt('coils', 'coil', coil({ heatId: uuidv7() }))).toEqual({ status: 422, fields: ['heatId'] });
    expect(await refusedAt('coils', 'coil', coil({ certificateId: heatId }))).toEqual({ status: 422, fields: ['certificateId'] });
    expect(await refusedAt('surveys', 'survey', survey({ wellId: heatId }))).toEqual({ status: 422, fields: ['wellId'] });
    const well = await made('wells', { name: another('Lindmoor'), datum: 'Top' });
    await send('POST', `wells/${well}/void`, { reason: 'Never drilled' }, { 'if-match': '"1"' });
    expect(await refusedAt('casing-strings', 'casing_string', casingString({ wellId: well }))).toEqual({ status: 422, fields: ['wellId'] });
  });

  test('a withdrawal of what standing records rest on, until they are withdrawn', async () => {
    const well = await made('wells', { name: another('Lindmoor'), datum: 'Top' });
    const standing = await made('casing-strings', casingString({ wellId: well }));
    const reason = { reason: 'Never drilled' };
    const version = { 'if-match': '"1"' };
    expect(await send('POST', `wells/${well}/void`, reason, version)).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:held' } });
    expect((await send('GET', `wells/${well}`)).body.state).toBe('active');
    expect((await send('POST', `casing-strings/${standing}/void`, reason, version)).status).toBe(200);
    expect((await send('POST', `wells/${well}/void`, reason, version)).status).toBe(200);
  });

  test.each<[string, string, () => Fields, string]>([
    ['coils', 'coil', () => coil({ thicknessMm: '0.49' }), 'thicknessMm'],
    ['coils', 'coil', () => coil({ widthMm: '2501' }), 'widthMm'],
    ['coils', 'coil', () => coil({ massKg: '45001' }), 'massKg'],
    ['coils', 'coil', () => coil({ massKg: 7850 }), 'massKg'],
    ['certificates', 'certificate', () => ({ number: 'X', issuer: 'Y', documentType: '3.3', issuedOn: '2026-01-22' }), 'documentType'],
    ['casing-strings', 'casing_string', () => casingString({ footageLimitMm: 0 }), 'footageLimitMm'],
    ['casing-strings', 'casing_string', () => casingString({ outsideDiameterMm: '9.9' }), 'outsideDiameterMm'],
    ['surveys', 'survey', () => survey({ stations: [station('0', '80')] }), 'stations'],
    ['surveys', 'survey', () => survey({ stations: [station('0', '80'), station('10', '180.1')] }), 'stations[1].inclinationDeg'],
  ])('impossible %s: 400', async (path, table, content, field) => {
    expect(await refusedAt(path, table, content())).toEqual({ status: 400, fields: [field] });
  });

  test('figures that contradict each other', async () => {
    expect(await refusedAt('casing-strings', 'casing_string', casingString({ outsideDiameterMm: '70', wallThicknessMm: '35' }))).toEqual({ status: 422, fields: ['wallThicknessMm'] });
    expect(await refusedAt('casing-strings', 'casing_string', casingString({ diameterRatioU: '0.01' }))).toEqual({ status: 422, fields: ['diameterRatioU'] });
    const level = survey({ stations: [station('0', '80'), station('30', '79'), station('30.0', '78')] });
    expect(await refusedAt('surveys', 'survey', level)).toEqual({ status: 422, fields: ['stations[2].mdM'] });
  });
});

describe('implausible values', () => {
  test.each<[string, () => Fields, string, string]>([
    ['casing-strings', () => casingString({ lengthRatio: '0.84' }), 'lengthRatio', '0.84'],
    ['casing-strings', () => casingString({ diameterRatio: '1.41' }), 'diameterRatio', '1.41'],
    ['coils', () => coil({ lengthMm: 526_000 }), 'lengthMm', '526000'],
    ['coils', () => coil({ thicknessMm: '1.50' }), 'thicknessMm', '1.50'],
  ])('%s: asked about once, then taken and marked for good', async (path, content, field, value) => {
    const body = { id: uuidv7(), observedAt: at, ...content() };
    const asked = await send('POST', path, body);
    expect(asked).toMatchObject({ status: 422, body: { type: 'urn:everymetre:problem:implausible', errors: [{ field, value }] } });
    expect((await send('GET', `${path}/${body.id}`)).status).toBe(404);
    const taken = await send('POST', path, { ...body, confirm: each(asked, 'errors', 'confirm') });
    expect(taken).toMatchObject({ status: 201, body: { marks: [{ kind: 'confirmed-implausible', field, value }] } });
    const amended = await send('PATCH', `${path}/${body.id}`, { reason: 'A note', note: 'Checked twice' }, { 'if-match': '"1"' });
    expect(amended).toMatchObject({ status: 200, body: { marks: taken.body.marks, note: 'Checked twice' } });
  });

  test('the code of one value does not let another one in', async () => {
    const body = { id: uuidv7(), observedAt: at, ...coil({ thicknessMm: '1.50' }) };
    const confirm = each(await send('POST', 'coils', body), 'errors', 'confirm');
    expect((await send('POST', 'coils', { ...body, thicknessMm: '1.40', confirm })).status).toBe(422);
  });
});
