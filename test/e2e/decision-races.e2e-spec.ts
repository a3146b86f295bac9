import { setTimeout } from 'node:timers/promises';
import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { startTestApi, TEST_PASSWORD, type Answer, type SignedIn, type TestApi } from '../setup/api.js';
import { fileOf, lineOf } from '../setup/certificate-files.js';
import { entered } from '../setup/string-builder.js';

const at = '2026-02-18T09:00:00Z';
const ROUNDS = 20;
let api: TestApi;
let engineers: readonly [SignedIn, SignedIn];
let coilId: string;
let heatId: string;

beforeAll(async () => {
  api = await startTestApi();
  engineers = [await api.signIn('materials-engineer'), await api.signIn('materials-engineer')];
  const [engineer] = engineers;
  const specificationId = await entered(engineer, 'strip-specifications', {
    observedAt: at, number: 'STS-40', revision: 1, title: 'Slit strip', effectiveFrom: '2025-11-01', grade: 'S420MC', documentType: '3.1',
    rounding: 'absolute', decisionRule: 'simple-acceptance', requirements: [{ characteristic: 'ReH', min: '420', unit: 'MPa' }],
  });
  const orderId = await entered(engineer, 'strip-orders', {
    observedAt: at, number: 'PO-90', mill: 'Tarnwick Steelworks', orderedOn: '2025-12-04', specificationId, thicknessMm: '5.00', widthMm: '383.0',
  });
  heatId = await entered(engineer, 'heats', { observedAt: at, number: 'H9', grade: 'S420MC' });
  coilId = await entered(engineer, 'coils', { observedAt: at, number: 'R-01', heatId, orderId, widthMm: '383.0', thicknessMm: '5.00', massKg: '3200' });
}, 30_000);
afterAll(() => api.close());

interface Seen {
  readonly sha256: string;
  readonly standing: { readonly decisionCount: number };
}

async function seen(): Promise<Seen> {
  return (await engineers[0].send<Seen & Record<string, unknown>>('GET', `/api/coils/${coilId}/evaluation`)).body;
}

const decide = (by: SignedIn, { sha256, standing }: Seen, id = uuidv7()): Promise<Answer> => by.send('POST', '/api/coil-decisions', {
  body: { id, coilId, decision: 'hold', evaluationSha256: sha256, grounds: 'Raced.', follows: standing.decisionCount, secret: TEST_PASSWORD },
});

const decisions = async (): Promise<number> => {
  const [row] = await api.owner.query<{ count: string }[]>('select count(*) from coil_decision');
  return Number(row?.count);
};

test('two who decide on the same sight of a coil: one is taken, the other told to look again', async () => {
  for (let round = 0; round < ROUNDS; round += 1) {
    const sight = await seen();
    const answers = await Promise.all(engineers.map((engineer) => decide(engineer, sight)));
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 409]);
    expect(answers.find(({ status }) => status === 409)?.body).toMatchObject({ type: 'urn:everymetre:problem:decided-meanwhile' });
  }
  expect(await decisions()).toBe(ROUNDS);
  const rows = await api.owner.query<{ sequence: number }[]>('select sequence from coil_decision order by sequence');
  expect(rows.map(({ sequence }) => sequence)).toEqual(Array.from({ length: ROUNDS }, (_, index) => index + 1));
}, 60_000);

test('a reading that comes in while a decision is signed: what was signed is what was known at that instant', async () => {
  const check = (round: number): Promise<Answer> => engineers[1].send('POST', '/api/incoming-checks', {
    body: {
      id: uuidv7(), observedAt: at, coilId, characteristic: 'thickness', unit: 'mm', instrument: 'MI-07',
      readings: [{ printed: `5.${String(round).padStart(2, '0')}`, along: 'head', across: 'centre' }],
    },
  });
  const heard: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    const sight = await seen();
    const [read, decided] = await Promise.all([check(round), decide(engineers[0], sight)]);
    expect(read.status).toBe(201);
    heard.push(decided.status);
    if (decided.status !== 201) continue;
    const then = await engineers[0].send('GET', `/api/coils/${coilId}/evaluation?asKnownAt=${String(decided.body['signedAt'])}`);
    expect(then.body['sha256']).toBe(decided.body['evaluationSha256']);
  }
  expect(heard.every((status) => [201, 409].includes(status))).toBe(true);
  // Some were signed, or nothing was tried here.
  expect(heard).toContain(201);
}, 60_000);

test('while many readings wait for a coil, a decision on it is signed, and none of them is refused', async () => {
  const check = (): Promise<Answer> => engineers[1].send('POST', '/api/incoming-checks', {
    body: {
      id: uuidv7(), observedAt: at, coilId, characteristic: 'thickness', unit: 'mm', instrument: 'MI-07',
      readings: [{ printed: '5.01', along: 'body', across: 'centre' }],
    },
  });
  for (let round = 0; round < 3; round += 1) {
    const sight = await seen();
    const [decided, ...checks] = await Promise.all([decide(engineers[0], sight), ...Array.from({ length: 24 }, check)]);
    expect([201, 409]).toContain(decided.status);
    expect(new Set(checks.map(({ status }) => status))).toEqual(new Set([201]));
  }
}, 60_000);

test('a reading moved from another coil while a decision is signed waits for it', async () => {
  const other = await entered(engineers[0], 'coils', { observedAt: at, number: 'R-99', heatId, widthMm: '383.0', thicknessMm: '5.00', massKg: '3200' });
  for (let round = 0; round < ROUNDS; round += 1) {
    const id = await entered(engineers[1], 'incoming-checks', {
      observedAt: at, coilId: other, characteristic: 'thickness', unit: 'mm', instrument: 'MI-07', readings: [{ printed: '5.04', along: 'tail', across: 'centre' }],
    });
    const sight = await seen();
    const [moved, decided] = await Promise.all([
      engineers[1].send('PATCH', `/api/incoming-checks/${id}`, { body: { reason: 'Another coil.', coilId }, headers: { 'if-match': '"1"' } }),
      decide(engineers[0], sight),
    ]);
    expect(moved.status).toBe(200);
    if (decided.status !== 201) continue;
    const then = await engineers[0].send('GET', `/api/coils/${coilId}/evaluation?asKnownAt=${String(decided.body['signedAt'])}`);
    expect(then.body['sha256']).toBe(decided.body['evaluationSha256']);
  }
}, 60_000);

test('one decision sent several times at once is one', async () => {
  const before = await decisions();
  const sight = await seen();
  const id = uuidv7();
  const answers = await Promise.all(Array.from({ length: 4 }, () => decide(engineers[0], sight, id)));
  expect(answers.map(({ status, body }) => [status, body['id'], body['sequence']])).toEqual(Array.from({ length: 4 }, () => [201, id, before + 1]));
  expect(await decisions()).toBe(before + 1);
});

test('one file imported several times at once: with one id it is one import, with several the papers are there once', async () => {
  const send = (id: string, certificate: string): Promise<Answer> => engineers[0].send('POST', `/api/certificate-imports?id=${id}&observedAt=${at}`, {
    body: fileOf(lineOf({ certificate })), headers: { 'content-type': 'text/csv' },
  });
  const id = uuidv7();
  const same = await Promise.all(Array.from({ length: 4 }, () => send(id, 'TS-A')));
  expect(same.map(({ status, body }) => [status, body['newCertificates']])).toEqual(Array.from({ length: 4 }, () => [201, 1]));
  const others = await Promise.all(Array.from({ length: 4 }, () => send(uuidv7(), 'TS-B')));
  expect(others.map(({ status }) => status).sort()[0]).toBe(201);
  expect(others.filter(({ status }) => status === 201)).toHaveLength(1);
  expect(others.every(({ status }) => [201, 409, 422].includes(status))).toBe(true);
  const [counted] = await api.owner.query<{ papers: string; keyings: string }[]>(
    'select (select count(*) from certificate) as papers, (select count(*) from certificate_transcription) as keyings',
  );
  expect(counted).toEqual({ papers: '2', keyings: '2' });
});

test('while a file is being imported, heats and coils are entered all the same', async () => {
  const lines = Array.from({ length: 3000 }, (_, index) => lineOf({ certificate: `TS-L${index}` }));
  const imported = engineers[0].send('POST', `/api/certificate-imports?id=${uuidv7()}&observedAt=${at}`, {
    body: fileOf(...lines), headers: { 'content-type': 'text/csv' },
  });
  while (!(await isImporting())) await setTimeout(5);
  const heat = entered(engineers[1], 'heats', { observedAt: at, number: 'H10', grade: 'S420MC' });
  expect(await Promise.race([imported.then(() => 'the file'), heat.then(() => 'the heat')])).toBe('the heat');
  expect(await imported).toMatchObject({ status: 201, body: { newCertificates: 3000 } });
  // Keyings are large: a page holds few of them, whatever is asked for.
  const page = (await engineers[0].send('GET', '/api/certificate-transcriptions?limit=100')).body as { items: object[]; next: string | null };
  expect([page.items.length, page.next === null]).toEqual([10, false]);
}, 60_000);

/** True while a transaction adds keyings. */
async function isImporting(): Promise<boolean> {
  const locks: unknown[] = await api.owner.query("select 1 from pg_locks where relation = 'certificate_transcription'::regclass and mode = 'RowExclusiveLock'");
  return locks.length > 0;
}
