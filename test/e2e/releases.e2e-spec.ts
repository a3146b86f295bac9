import { beforeAll, beforeEach, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { TEST_PASSWORD, type SignedIn } from '../setup/api.js';
import { evidenceOf, item, line, plan, release } from './evidence.factory.js';
import { at, fieldsRefused, lineFactory, type Fields } from './line.factory.js';
import { channel, inspectionRun, openUpload, range, sendPart, upload } from './signals.factory.js';
import { splicesFrom } from './splices.factory.js';

const { api, engineer, stringId, post, made, amend, withdraw, period, setup, reading, hangOff, tie } = lineFactory();

let inspector: SignedIn;
let standardId: string;
let channelId: string;
let runId: string;
let periodId: string;

beforeAll(async () => {
  inspector = await api().signIn('qc-inspector');
});

/** Ten metres, inspected and provisional. */
beforeEach(async () => {
  periodId = await made('counter-periods', period());
  await made('line-setups', setup());
  standardId = await made('instruments', { observedAt: at('05:00'), number: `RS-${stringId().slice(-8)}`, kind: 'reference-standard', name: 'Notched tube', measures: ['notch'], unit: 'mm' });
  channelId = await made('channels', channel(stringId(), 'ET-seam-1', { measures: 'eddy-current-amplitude', unit: '%', method: 'ET', zone: 'seam', threshold: { sense: 'above', level: '60' }, plausible: { from: null, to: null } }));
  runId = await made('inspection-runs', inspectionRun(stringId(), [channelId], { standardId }));
  const uploadId = await openUpload(post, upload(runId, [{ column: 'seam', channelId }]));
  for (const [clock, mm] of [['06:00', 0], ['10:00', 10_000]] as const) {
    expect(await engineer().send('POST', '/api/counter-readings', { body: reading(clock, String(mm)) })).toMatchObject({ status: 201 });
  }
  await checked('06:05', '74.5', { occasion: 'start' });
  const counter = range(0, 10_000);
  expect(await sendPart(engineer().send, uploadId, 1, { counter, values: { seam: counter.map((mm) => 10 + (mm % 5)) }, firstAt: at('06:10'), lastAt: at('09:50') })).toMatchObject({ status: 200 });
  await made('control-plans', plan(stringId(), [item('ET-1', 'channel-inspected', { channelId }), item('NC-1', 'nonconformances-closed'), item('REL', 'released')]));
});

const checked = async (clock: string, showed: string, changes: Fields = {}): Promise<string> => made('reference-checks', {
  stringId: stringId(), observedAt: at(clock), from: { footageMm: 0 }, runId, standardId, mode: 'dynamic', occasion: 'interval',
  results: [{ channelId, reflector: 'N10 outside', size: '0.50 mm deep', amplitude: showed, threshold: '60', sense: 'above' }], ...changes,
});

interface Standing extends Fields {
  readonly released: { readonly intervals: readonly Fields[] };
  readonly reopened: { readonly intervals: readonly Fields[] };
  readonly neverReleased: { readonly intervals: readonly Fields[] };
  readonly releases: readonly (Fields & { readonly changes: readonly Fields[] })[];
}

async function standing(query = ''): Promise<Standing> {
  const answer = await engineer().send<Standing>('GET', `/api/casing-strings/${stringId()}/release-standing${query}`);
  expect(answer).toMatchObject({ status: 200 });
  return answer.body;
}

const nonconformance = (fromMm: number, toMm: number): Fields => ({
  stringId: stringId(), observedAt: at('10:20'), title: 'Mark on the seam', severity: 'minor', origin: 'line', extents: [{ from: { footageMm: fromMm }, to: { footageMm: toMm } }],
  extentBasis: 'measured', requirement: { document: 'Plan', revision: '1', clause: '4', limit: 'no mark' }, found: { text: 'Mark', method: 'seen', instrument: 'eye', at: at('10:20'), by: engineer().personId }, stage: 'open',
});

describe('a release', () => {
  test('is signed on the evidence that was shown, with a reason for what is not shown', async () => {
    const proposal = await inspector.send('GET', `/api/casing-strings/${stringId()}/release-proposal?fromM=0&toM=8`);
    expect(proposal).toMatchObject({ status: 200, body: { notOpenBecause: null, against: [], toExcept: [{ code: 'ET-1', state: 'provisional', metres: { lengthMm: 8_000 } }], ownWorkRecords: 0 } });
    const bare = await release(inspector, stringId(), [0, 8_000], { exceptions: [] });
    expect(bare).toMatchObject({ status: 422, body: { errors: [{ field: 'exceptions', limit: 'a reason for ET-1: provisional on 8000 mm' }] } });
    const signed = await release(inspector, stringId(), [0, 8_000]);
    expect(signed).toMatchObject({ status: 201, body: { worst: 'provisional', ownWork: false, exceptions: [{ code: 'ET-1', state: 'provisional', lengthMm: 8_000 }], signedBy: 'secret entered again', signerRoles: ['qc-inspector'] } });
    expect(line(await evidenceOf(engineer(), stringId()), 'REL')).toMatch(/^confirmed 0-8000( late)?, missing 8000-10000$/);
    expect(await standing()).toMatchObject({ released: { intervals: [{ fromMm: 0, toMm: 8_000 }] }, reopened: { intervals: [] }, neverReleased: { intervals: [{ fromMm: 8_000, toMm: 10_000 }] } });
  });

  test('is refused on anything else than was seen, by another secret, and by who may not', async () => {
    expect(await release(inspector, stringId(), [0, 8_000], { secret: 'not my secret at all' })).toMatchObject({ status: 403, body: { type: 'urn:everymetre:problem:wrong-secret' } });
    expect(await release(inspector, stringId(), [0, 8_000], { evidenceSha256: '0'.repeat(64) })).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:evidence-changed' } });
    const auditor = await api().signIn('auditor');
    expect(await release(auditor, stringId(), [0, 8_000])).toMatchObject({ status: 403 });
    expect(await release(inspector, stringId(), [0, 12_000])).toMatchObject({ status: 422, body: { type: 'urn:everymetre:problem:not-open', errors: [{ field: 'toMm', limit: 'pipe was made up to 10000 mm only' }] } });
    expect(await release(inspector, stringId(), [5_000, 4_000].map((mm) => mm).reverse() as [number, number], { fromMm: 5_000, toMm: 4_000 })).toMatchObject({ status: 422 });
    const odd = await release(inspector, stringId(), [0, 8_000], { exceptions: [{ code: 'ET-1', because: 'Due later' }, { code: 'NC-1', because: 'Nothing there' }] });
    expect(fieldsRefused(odd)).toEqual(['exceptions[1].code']);
    expect((await standing()).releases).toEqual([]);
  });

  test('of own work needs a reason, and shows it', async () => {
    const bare = await release(engineer(), stringId(), [0, 8_000], { ownWorkBecause: null });
    expect(fieldsRefused(bare)).toEqual(['ownWorkBecause']);
    expect(await release(engineer(), stringId(), [0, 8_000])).toMatchObject({ status: 201, body: { ownWork: true, ownWorkBecause: 'Nobody else is on shift' } });
    expect(fieldsRefused(await release(inspector, stringId(), [0, 8_000], { ownWorkBecause: 'Not my own at all' }))).toEqual(['ownWorkBecause']);
  });

  test('of a splice that the signer worked at is one of own work, though another person accepted it', async () => {
    await made('control-plans', plan(stringId(), [item('SP-1', 'splice-accepted', { at: 'splices', marginMm: 0 })], { fromMm: 5_000, revision: '2' }));
    const [spliceId] = await splicesFrom(engineer(), stringId(), 6_000);
    const own = async (): Promise<unknown> => (await inspector.send('GET', `/api/casing-strings/${stringId()}/release-proposal?fromM=5&toM=8`)).body['ownWork'];
    expect(await own()).toEqual([]);
    const step = { id: uuidv7(), observedAt: at('06:04'), stringId: stringId(), spliceId, stage: 'preparation', outcome: 'accepted', readings: [], examinations: [], coupons: [], photoSha256s: [] };
    expect(await inspector.send('POST', '/api/splice-steps', { body: step })).toMatchObject({ status: 201 });
    expect(await own()).toMatchObject([{ kind: 'splice-step', id: step.id }]);
    expect(fieldsRefused(await release(inspector, stringId(), [5_000, 8_000], { ownWorkBecause: null }))).toEqual(['ownWorkBecause']);
    expect(await release(inspector, stringId(), [5_000, 8_000])).toMatchObject({ status: 201, body: { ownWork: true } });
  });

  test('is not given on what failed or is held', async () => {
    const reportId = await made('nonconformances', nonconformance(2_000, 3_000));
    expect(await release(inspector, stringId(), [0, 8_000])).toMatchObject({ status: 422, body: { type: 'urn:everymetre:problem:not-open' } });
    expect(await release(inspector, stringId(), [3_000, 8_000])).toMatchObject({ status: 201 });
    expect(await withdraw('nonconformances', reportId, 1)).toMatchObject({ status: 200 });
    await made('holds', { stringId: stringId(), observedAt: at('09:30'), cause: 'Odd sound', intervals: [{ from: { footageMm: 500 }, to: { footageMm: 600 } }], coilIds: [], spliceIds: [] });
    const held = await release(inspector, stringId(), [0, 3_000]);
    expect(held).toMatchObject({ status: 422, body: { errors: [{ limit: 'a hold stands on it: lift it first' }] } });
  });

  test('sent again has the effect of one, and another under its id is refused', async () => {
    const id = uuidv7();
    const first = await release(inspector, stringId(), [0, 8_000], { id });
    const again = await release(inspector, stringId(), [0, 8_000], { id });
    expect([first.status, again.status]).toEqual([201, 201]);
    expect(again.body).toEqual(first.body);
    expect(await release(inspector, stringId(), [0, 7_000], { id })).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:id-taken' } });
    expect((await standing()).releases).toHaveLength(1);
  });

  test('reopens by itself where a check that failed became known later, with why', async () => {
    expect(await release(inspector, stringId(), [0, 8_000])).toMatchObject({ status: 201 });
    const checkId = await checked('09:55', '41', { occasion: 'end' });
    const { released, reopened, releases: [one] } = await standing();
    expect([released.intervals, reopened.intervals]).toEqual([[], [{ fromMm: 0, toMm: 8_000 }]]);
    expect(one).toMatchObject({ isMoved: false, changes: [{ code: 'ET-1', fromMm: 0, toMm: 8_000, worse: true, before: { state: 'provisional' }, after: { state: 'suspect' } }] });
    const after = one?.changes[0]?.['after'] as { testimonies: { because: string; records: Fields[] }[] };
    expect(after.testimonies[0]?.because).toContain('inspected before a reference check that failed');
    expect(after.testimonies[0]?.records).toContainEqual(expect.objectContaining({ kind: 'reference-check', id: checkId }));
    expect(line(await evidenceOf(engineer(), stringId()), 'REL')).toMatch(/^suspect 0-8000, missing 8000-10000$/);
    // The standard was dirty: what was found against it was not so, and the release stands again.
    expect(await amend('reference-checks', checkId, 1, { voidReason: 'Standard was dirty' })).toMatchObject({ status: 200 });
    expect(await standing()).toMatchObject({ released: { intervals: [{ fromMm: 0, toMm: 8_000 }] }, reopened: { intervals: [] } });
  });

  test('reopens on just the pipe that a nonconformance or a hold touches, and what was known before stays what it was', async () => {
    expect(await release(inspector, stringId(), [0, 8_000])).toMatchObject({ status: 201 });
    const [row]: { now: string }[] = await api().dataSource.query("select to_char(clock_timestamp() at time zone 'UTC', 'YYYY-MM-DD\"T\"HH24:MI:SS.US\"Z\"') as now");
    await made('nonconformances', nonconformance(2_000, 3_000));
    expect((await standing()).reopened.intervals).toEqual([{ fromMm: 2_000, toMm: 3_000 }]);
    await made('holds', { stringId: stringId(), observedAt: at('09:30'), cause: 'Odd sound', intervals: [{ from: { footageMm: 500 }, to: { footageMm: 600 } }], coilIds: [], spliceIds: [] });
    expect((await standing()).reopened.intervals).toEqual([{ fromMm: 500, toMm: 600 }, { fromMm: 2_000, toMm: 3_000 }]);
    expect((await standing(`?asKnownAt=${row?.now ?? ''}`)).reopened.intervals).toEqual([]);
  });

  test('is not given on pipe that was to be cut out and was not, though its nonconformance is closed and another one is conceded', async () => {
    const id = await made('nonconformances', nonconformance(4_000, 5_000));
    const disposition = { text: 'As agreed', approvedBy: inspector.personId, approvedAt: at('10:30') };
    expect(await amend('nonconformances', id, 1, { stage: 'closed', disposition: { kind: 'reject', ...disposition } })).toMatchObject({ status: 200 });
    const conceded = await made('nonconformances', nonconformance(4_500, 5_500));
    expect(await amend('nonconformances', conceded, 1, { stage: 'closed', disposition: { kind: 'use-as-is-under-concession', ...disposition } })).toMatchObject({ status: 200 });
    expect(line(await evidenceOf(engineer(), stringId()), 'NC-1')).toBe('confirmed 0-4000, failed 4000-5000, conceded 5000-5500, confirmed 5500-10000');
    expect(await release(inspector, stringId(), [0, 8_000])).toMatchObject({ status: 422, body: { type: 'urn:everymetre:problem:not-open' } });
  });

  test('tells where the pipe that was reopened stands, on both walls', async () => {
    await made('hang-offs', hangOff());
    expect(await engineer().send('POST', '/api/counter-readings', { body: reading('17:00', '200000') })).toMatchObject({ status: 201 });
    await made('shoe-ties', tie());
    expect(await release(inspector, stringId(), [0, 200_000])).toMatchObject({ status: 201 });
    await made('nonconformances', nonconformance(50_000, 180_000));
    const { releases: [one], notLocated } = await standing();
    expect(notLocated).toBeNull();
    expect(one).toMatchObject({ reopened: { intervals: [{ fromMm: 50_000, toMm: 180_000 }] } });
    const walls = one?.['reopenedOnWalls'] as { wall: string; md: { fromMm: number; toMm: number }[] }[];
    expect(walls.map(({ wall, md }) => [wall, md.length])).toEqual([['outer', 1], ['inner', 1]]);
    // The outer wall holds it from where footage 50 m was turned back down to the fold, and the inner one from the fold upwards.
    expect(walls[0]?.md[0]?.toMm).toBe(walls[1]?.md[0]?.toMm);
  });

  test('better evidence is told and reopens nothing', async () => {
    expect(await release(inspector, stringId(), [0, 8_000])).toMatchObject({ status: 201 });
    await checked('09:55', '73', { occasion: 'end' });
    const { reopened, releases: [one] } = await standing();
    expect(reopened.intervals).toEqual([]);
    expect(one?.changes).toMatchObject([{ code: 'ET-1', worse: false, before: { state: 'provisional' }, after: { state: 'confirmed' } }]);
  });

  test('reopens as a whole where the counter by which its pipe has its footage was corrected', async () => {
    expect(await release(inspector, stringId(), [0, 8_000])).toMatchObject({ status: 201 });
    expect(await amend('counter-periods', periodId, 1, { scaleMmPerCount: '1.0010' })).toMatchObject({ status: 200 });
    expect(await standing()).toMatchObject({ reopened: { intervals: [{ fromMm: 0, toMm: 8_000 }] }, releases: [{ isMoved: true }] });
  });

  test('is withdrawn by a signature with a reason, once, and stays readable', async () => {
    const signed = await release(inspector, stringId(), [0, 8_000]);
    const id = String(signed.body['id']);
    const body = { reason: 'The wrong interval', secret: TEST_PASSWORD };
    expect(await inspector.send('POST', `/api/releases/${id}/withdrawal`, { body: { ...body, secret: 'something else' } })).toMatchObject({ status: 403 });
    expect(await inspector.send('POST', `/api/releases/${id}/withdrawal`, { body })).toMatchObject({ status: 200, body: { state: 'void', reason: 'The wrong interval' } });
    expect(await inspector.send('POST', `/api/releases/${id}/withdrawal`, { body })).toMatchObject({ status: 409 });
    expect(await standing()).toMatchObject({ releases: [], withdrawn: 1 });
    expect(await engineer().send('GET', `/api/releases/${id}`)).toMatchObject({ status: 200, body: { state: 'void', evidenceSha256: signed.body['evidenceSha256'] } });
  });

  test('is told among what changed on the string, signed and withdrawn', async () => {
    const signed = await release(inspector, stringId(), [0, 8_000]);
    const since = encodeURIComponent(String(signed.body['recordedAt']));
    const body = { reason: 'The wrong interval', secret: TEST_PASSWORD };
    expect(await inspector.send('POST', `/api/releases/${String(signed.body['id'])}/withdrawal`, { body })).toMatchObject({ status: 200 });
    expect(await engineer().send('GET', `/api/casing-strings/${stringId()}/changes?since=${since}`)).toMatchObject({
      status: 200, body: {
        counts: [{ kind: 'release', entered: 1, amended: 0, voided: 1, derivedAgain: 0 }],
        changes: [
          { record: { kind: 'release', id: signed.body['id'], version: 1 }, what: 'entered', changes: [] },
          { record: { kind: 'release', version: 2 }, what: 'voided', reason: 'The wrong interval', changes: [{ field: 'state', before: 'active', after: 'void' }] },
        ],
      },
    });
  });

  test('the database itself keeps what it said', async () => {
    const signed = await release(inspector, stringId(), [0, 8_000]);
    const id = String(signed.body['id']);
    const again = (column: string, value: string): Promise<unknown> => api().owner.transaction(async (tx) => {
      await tx.query("select set_config('app.actor', $1, true), set_config('app.request', 'test', true)", [inspector.personId]);
      const named = await tx.query<{ name: string }[]>("select column_name as name from information_schema.columns where table_name = 'release' and column_name not in ('one', 'version', 'known_from', 'state', 'reason')");
      const columns = named.map(({ name }) => name);
      await tx.query('update release set known_until = clock_timestamp() where id = $1', [id]);
      return tx.query<unknown>(`insert into release (version, known_from, state, reason, ${columns.join(', ')}) select 2, known_until, 'void', 'Changed', ${columns.map((name) => (name === column ? value : name === 'known_until' ? 'null' : name)).join(', ')} from release where id = $1`, [id]);
    });
    await expect(again('grounds', "'others'")).rejects.toThrow(/stays/);
    await expect(again('to_mm', '9000')).rejects.toThrow(/stays/);
    await expect(again('worst', "'failed'")).rejects.toThrow();
  });
});
