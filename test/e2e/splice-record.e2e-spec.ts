import { createHash } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { startTestApi, type Answer, type SignedIn, type TestApi } from '../setup/api.js';
import { databaseState } from '../setup/database-state.js';
import { StringBench, type Fields } from '../setup/string-bench.js';
import { entered } from '../setup/string-builder.js';

const PREPARED_AT = '2026-03-02T08:00:00Z';
const CHART = Buffer.from('%PDF-1.7\n% chart of a heat treatment\n');
let api: TestApi;
let bench: StringBench;
let inspector: SignedIn;
let stringId: string;
let spliceId: string;
let procedureId: string;

beforeAll(async () => {
  api = await startTestApi();
  bench = await StringBench.on(api);
  inspector = await api.signIn('qc-inspector');
  stringId = await bench.string();
  const [leavingCoilId, enteringCoilId] = [await bench.coil(), await bench.coil()];
  const segment = (coilId: string, fromMm: number, toMm: number): Fields => (
    { stringId, coilId, from: { footageMm: fromMm }, to: { footageMm: toMm }, stripFromMm: 0, stripToMm: toMm - fromMm, runs: 'head-first' });
  await bench.made('coil-segments', segment(leavingCoilId, 0, 100_000));
  await bench.made('coil-segments', segment(enteringCoilId, 100_000, 200_000));
  spliceId = await bench.made('splices', {
    stringId, number: 'S-1', leavingCoilId, enteringCoilId, angleDeg: '45', hand: 'left', confirmed: false, verdict: 'open', from: { footageMm: 100_000 }, observedAt: PREPARED_AT,
  });
  procedureId = await bench.made('weld-procedures', {
    number: 'WP-9', revision: 1, title: 'Splice', purpose: 'splice', process: '135', effectiveFrom: '2025-06-01', ranges: [{ variable: 'current', min: '160', max: '200', unit: 'A' }], lists: [],
  });
}, 60_000);
afterAll(() => api.close());

const step = (stage: string, observedAt: string, changes: Fields = {}): Fields => (
  { observedAt, stringId, spliceId, stage, outcome: 'accepted', readings: [], examinations: [], coupons: [], photoSha256s: [], ...changes });
const send = (body: Fields): Promise<Answer> => inspector.send('POST', '/api/splice-steps', { body: { id: uuidv7(), ...body } });
const record = async (query = ''): Promise<Fields> => (await inspector.send('GET', `/api/splices/${spliceId}/record${query}`)).body;
/** Whether people and instruments were good is for the tests of their checks. */
const withoutProofs = (open: unknown): unknown => (open as string[]).filter((words) => !/ is not proved: .*; see \/api\//.test(words));
const openPoints = async (): Promise<unknown> => withoutProofs((await record())['open']);

describe('the record of a splice', () => {
  test('before anything was done names every stage, and the geometry of its weld', async () => {
    const found = await record();
    expect(found).toMatchObject({
      // 400 mm strip at 45°: √2 times the width of weld, and the width of pipe.
      pipeLengthMm: expect.closeTo(400, 9), weldLengthMm: expect.closeTo(400 * Math.SQRT2, 9),
      seamJunctions: [{ footageMm: 100_000, edge: 'left' }, { footageMm: 100_400, edge: 'right' }],
      count: { coilRuns: 2, splices: 1, agrees: true }, steps: [], welds: [],
    });
    expect(found['open']).toEqual([
      'its place is predicted, and was not confirmed', 'no weld of it is on record', 'preparation is missing', 'flat-strip-release is missing', 'after-forming is missing', 'station-sighting is missing',
    ]);
  });

  test('goes through its stages; a bad reading is taken and told, a rejection is not looked away', async () => {
    const prepared = await send(step('preparation', PREPARED_AT, { readings: [{ measured: 'high-low', printed: '0.7', unit: 'mm', max: '0.5' }, { measured: 'gap', printed: '0.1', unit: 'mm' }] }));
    expect(prepared).toMatchObject({ status: 201, body: { marks: [{ kind: 'out-of-specification', field: 'readings[0].printed', value: '0.7' }] } });
    const weld = (observedAt: string): Promise<string> => entered(inspector, 'welds', {
      observedAt, stringId, spliceId, weldProcedureId: procedureId, readings: [{ variable: 'current', printed: '180', unit: 'A' }], chosen: [{ choice: 'process', value: '135' }],
    });
    await weld('2026-03-02T08:10:00Z');
    const examined = (outcome: string): Fields => ({ outcome, examinations: [{ method: 'RT', technique: 'RT-02 rev 3', outcome }] });
    await entered(inspector, 'splice-steps', step('flat-strip-release', '2026-03-02T08:12:00Z', examined('rejected')));
    await entered(inspector, 'splice-steps', step('flat-strip-release', '2026-03-02T08:20:00Z', examined('accepted')));
    expect(await openPoints()).toContain('flat-strip-release was accepted after it had been rejected, and was neither welded again nor repaired in between');
    const { recordedAt } = (await inspector.send<{ recordedAt: string }>('GET', `/api/splices/${spliceId}`)).body;
    await weld('2026-03-02T08:15:00Z');
    expect(await openPoints()).toEqual(['its place is predicted, and was not confirmed', 'after-forming is missing', 'station-sighting is missing', 'preparation: 0.7, high-low at most 0.5 mm']);
    await inspector.send('POST', '/api/files', { body: CHART, headers: { 'content-type': 'application/pdf' } });
    await entered(inspector, 'splice-steps', step('after-forming', '2026-03-02T08:40:00Z', {
      readings: [{ measured: 'hardness-haz', printed: '238', unit: 'HV10', max: '250' }], chartSha256: createHash('sha256').update(CHART).digest('hex'), coupons: ['S-1-C1'],
    }));
    await entered(inspector, 'splice-steps', step('station-sighting', '2026-03-02T08:50:00Z', { station: 'UT' }));
    const found = await record();
    expect((found['stages'] as Fields[]).map(({ state }) => state)).toEqual(['accepted', 'accepted', 'accepted', 'accepted']);
    expect([(found['steps'] as unknown[]).length, (found['welds'] as unknown[]).length]).toEqual([5, 2]);
    // As known when only the splice itself was on record.
    expect(await record(`?asKnownAt=${encodeURIComponent(recordedAt)}`)).toMatchObject({ steps: [], welds: [] });
  });

  test('what cannot be, or does not go together, is refused field by field, and nothing is written', async () => {
    const state = await databaseState(api.owner);
    const at = '2026-03-02T09:00:00Z';
    expect(await send(step('preparation', at, { readings: [{ measured: 'high-low', printed: '0,2', unit: 'MPa' }, { measured: 'hardness-weld', printed: '220', unit: 'mm' }], photoSha256s: ['x'] })))
      .toMatchObject({ status: 400, body: { errors: [{ field: 'readings[0].printed' }, { field: 'readings[0].unit' }, { field: 'readings[1].unit' }, { field: 'photoSha256s[0]' }] } });
    expect(await send(step('after-forming', at, { station: 'UT', examinations: [{ method: 'RT', technique: 'RT-02', outcome: 'held' }] })))
      .toMatchObject({ status: 422, body: { errors: [{ field: 'station' }, { field: 'examinations[0].method' }, { field: 'outcome' }] } });
    expect(await send(step('station-sighting', at))).toMatchObject({ status: 422, body: { errors: [{ field: 'station', value: null }] } });
    expect(await send(step('preparation', at, { chartSha256: '0'.repeat(64) }))).toMatchObject({ status: 422, body: { errors: [{ field: 'chartSha256' }] } });
    expect(await send(step('preparation', at, { examinations: [{ method: 'VT', technique: 'VT-1', outcome: 'accepted', personId: uuidv7() }] })))
      .toMatchObject({ status: 422, body: { errors: [{ field: 'examinations[0].personId' }] } });
    expect(await send(step('preparation', at, { spliceId: uuidv7() }))).toMatchObject({ status: 422, body: { errors: [{ field: 'spliceId' }] } });
    expect(await databaseState(api.owner)).toEqual(state);
  });
});

describe('a splice with all that belongs to it, in one request', () => {
  const whole = async (): Promise<{ splice: Fields; welds: Fields[]; steps: Fields[] }> => {
    const own = await bench.string();
    const of = ({ stringId: _string, spliceId: _splice, ...part }: Fields): Fields => ({ id: uuidv7(), ...part });
    return {
      splice: {
        id: uuidv7(), observedAt: PREPARED_AT, stringId: own, number: 'S-7', leavingCoilId: await bench.coil(), enteringCoilId: await bench.coil(), angleDeg: '45', hand: 'left',
        confirmed: true, verdict: 'accepted', from: { footageMm: 100_000 },
      },
      welds: [of({ observedAt: '2026-03-02T08:10:00Z', weldProcedureId: procedureId, readings: [{ variable: 'current', printed: '180', unit: 'A' }], chosen: [{ choice: 'process', value: '135' }] })],
      steps: [
        step('preparation', PREPARED_AT), step('flat-strip-release', '2026-03-02T08:20:00Z'), step('after-forming', '2026-03-02T08:30:00Z'),
        ...['ET', 'UT', 'hang-off'].map((station) => step('station-sighting', '2026-03-02T08:40:00Z', { station })),
      ].map(of),
    };
  };
  const enter = (body: object): Promise<Answer> => inspector.send('POST', '/api/splices/whole', { body });

  test('is entered whole; sent again, at once or later, it is one', async () => {
    const body = await whole();
    const [first, ...others] = await Promise.all([enter(body), enter(body), enter(body)]);
    expect(first).toMatchObject({ status: 201, body: { splice: { number: 'S-7' } } });
    for (const other of [...others, await enter(body)]) expect(other).toMatchObject({ status: 201, body: first.body });
    const { body: found } = await inspector.send('GET', `/api/splices/${String(body.splice['id'])}/record`);
    expect([(found['steps'] as unknown[]).length, (found['welds'] as unknown[]).length]).toEqual([6, 1]);
    expect(withoutProofs(found['open'])).toEqual(['0 runs of coil and 1 splices on the string: one splice fewer than runs was expected']);
  });

  test('sent again with other parts, or with a part of something else, is refused part by part', async () => {
    const body = await whole();
    expect(await enter(body)).toMatchObject({ status: 201 });
    const [first, ...others] = body.steps;
    const errorsOf = async (sent: object): Promise<unknown> => {
      const { status, body: { errors } } = await enter(sent);
      return [status, (errors as Fields[]).map(({ field }) => field)];
    };
    expect(await errorsOf({ ...body, steps: [{ ...first, outcome: 'held' }, ...others] })).toEqual([409, ['steps[0].outcome']]);
    expect(await errorsOf({ ...body, welds: [{ ...body.welds[0], fillerBatch: 'FB-1' }] })).toEqual([409, ['welds[0].fillerBatch']]);
    expect(await errorsOf({ ...body, steps: [...body.steps, { ...first, id: uuidv7() }] })).toEqual([409, ['steps[6].id']]);
    expect(await errorsOf({ ...body, steps: others })).toEqual([409, ['splice.id']]);
    const other = await whole();
    const state = await databaseState(api.owner);
    expect(await errorsOf({ ...other, welds: [{ ...other.welds[0], id: body.welds[0]?.['id'] }] })).toEqual([409, ['welds[0].id']]);
    expect(await databaseState(api.owner)).toEqual(state);
  });

  test('under a key of the client is done once, and the key is good for nothing else', async () => {
    const body = await whole();
    const headers = { 'idempotency-key': 'splice of tonight' };
    const under = (sent: object): Promise<Answer> => inspector.send('POST', '/api/splices/whole', { body: sent, headers });
    const first = await under(body);
    expect(first).toMatchObject({ status: 201 });
    expect(await under(body)).toMatchObject({ status: 201, body: first.body });
    expect(await under(await whole())).toMatchObject({ status: 422, body: { errors: [{ field: 'Idempotency-Key' }] } });
  });

  test('with anything wrong in any part leaves nothing, and names the part and its field', async () => {
    const body = await whole();
    const state = await databaseState(api.owner);
    const last = body.steps.at(-1) ?? {};
    const changed = (changes: Fields): object => ({ ...body, steps: [...body.steps.slice(0, -1), { ...last, ...changes }] });
    expect(await enter(changed({ station: null }))).toMatchObject({ status: 422, body: { errors: [{ field: 'steps[5].station' }] } });
    expect(await enter(changed({ readings: [{ measured: 'gap', printed: 'x', unit: 'mm' }] }))).toMatchObject({ status: 400, body: { errors: [{ field: 'steps[5].readings[0].printed', value: 'x' }] } });
    expect(await enter(changed({ id: body.splice['id'] }))).toMatchObject({ status: 400, body: { errors: [{ field: 'steps[5].id' }] } });
    expect(await enter({ ...body, splice: { ...body.splice, hand: 'square' } })).toMatchObject({ status: 422, body: { errors: [{ field: 'splice.hand' }] } });
    expect(await enter({ ...body, welds: [{ ...body.welds[0], weldProcedureId: uuidv7() }] })).toMatchObject({ status: 422, body: { errors: [{ field: 'welds[0].weldProcedureId' }] } });
    expect(await databaseState(api.owner)).toEqual(state);
    expect(await enter(body)).toMatchObject({ status: 201 });
    // The number of its string is taken now; nothing of the second is left.
    const second = { ...(await whole()), splice: { ...body.splice, id: uuidv7() } };
    const taken = await databaseState(api.owner);
    expect(await enter(second)).toMatchObject({ status: 409, body: { errors: [{ field: 'splice.number', value: 'S-7' }] } });
    expect(await databaseState(api.owner)).toEqual(taken);
  });
});
