import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { sqlRefusal } from '#libs/persistence';
import { DestructiveTest } from '../../apps/api/src/destructive-tests/destructive-test.entity.js';
import { TestSample } from '../../apps/api/src/test-samples/test-sample.entity.js';
import { startTestApi, type Answer, type TestApi } from '../setup/api.js';
import { databaseState } from '../setup/database-state.js';
import { StringBench, type Fields } from '../setup/string-bench.js';

/** Coil A made the pipe of 0 to 100 m head first, coil B that of 100 to 180 m tail first. */
const A = { fromMm: 0, middleMm: 50_000, toMm: 100_000 };
const B = { fromMm: 100_000, toMm: 180_000 };
let api: TestApi;
let bench: StringBench;
let stringId: string;
let coilA: string;
let coilB: string;
let spliceId: string;
/** Samples by number. */
const samples = new Map<string, string>();
let failedId: string;
/** When the failure was known, and none of its retests. */
let beforeRetests: string;

beforeAll(async () => {
  api = await startTestApi();
  bench = await StringBench.on(api);
  stringId = await bench.string();
  [coilA, coilB] = [await bench.coil(), await bench.coil()];
  const segment = (coilId: string, { fromMm, toMm }: { fromMm: number; toMm: number }, runs: string): Promise<string> => bench.made('coil-segments', {
    stringId, coilId, from: { footageMm: fromMm }, to: { footageMm: toMm }, stripFromMm: 0, stripToMm: toMm - fromMm, runs,
  });
  // Coil A in two entries that meet: its pipe is one length all the same.
  await segment(coilA, { fromMm: A.fromMm, toMm: 30_000 }, 'head-first');
  await bench.made('coil-segments', { stringId, coilId: coilA, from: { footageMm: 30_000 }, to: { footageMm: A.toMm }, stripFromMm: 30_000, stripToMm: 100_000, runs: 'head-first' });
  await segment(coilB, B, 'tail-first');
  spliceId = await bench.made('splices', {
    stringId, number: 'S-1', leavingCoilId: coilA, enteringCoilId: coilB, angleDeg: '45', hand: 'left', confirmed: false, verdict: 'open', from: { footageMm: 100_000 },
  });
  for (const [number, coilId, coilEnd] of [
    ['A1', coilA, 'head'], ['A2', coilA, 'tail'], ['A3', coilA, 'tail'], ['A4', coilA, 'tail'], ['B1', coilB, 'tail'], ['B2', coilB, 'head'],
  ] as const) samples.set(number, await bench.made('test-samples', sample({ number, coilId, coilEnd })));
  samples.set('C1', await bench.made('test-samples', sample({ number: 'C1', spliceId })));
  await bench.made('destructive-tests', flattening('A1'));
  const failed = await bench.enter('destructive-tests', flattening('A2', { outcome: 'fail', stated: 'Crack of 9 mm beside the seam' }));
  expect(failed).toMatchObject({ status: 201, body: { marks: [{ kind: 'out-of-specification', field: 'outcome', value: 'fail' }] } });
  failedId = String(failed.body['id']);
  await bench.made('destructive-tests', flattening('B1', { outcome: 'void', stated: null, voidReason: 'Cracked from a saw cut' }));
  const last = await bench.enter('destructive-tests', flattening('B2'));
  beforeRetests = String(last.body['recordedAt']);
  for (const number of ['A3', 'A4']) await bench.made('destructive-tests', flattening(number, { followsTestId: failedId, observedAt: '2026-03-02T11:00:00Z' }));
}, 60_000);
afterAll(() => api.close());

const sample = (changes: Fields = {}): Fields => ({ stringId, orientation: 'full-section', ...changes });

const flattening = (of: string, changes: Fields = {}): Fields => ({
  stringId, testSampleId: samples.get(of), kind: 'flattening', method: 'ISO 8492', laboratory: 'Site laboratory', stated: 'No crack seen', outcome: 'pass',
  observedAt: '2026-03-02T10:00:00Z', ...changes,
});

const hardness = (changes: Fields = {}): Fields => flattening('C1', {
  kind: 'hardness', method: 'ISO 6507-1', stated: null,
  readings: [{ name: 'weld metal', printed: '212', unit: 'HV10', max: '250' }, { name: 'heat-affected zone', printed: '249.6', unit: 'HV10', max: '250' }], ...changes,
});

/** What the question says of one kind of test. */
async function covered(test: string, query = '', of = stringId): Promise<Fields> {
  const { status, body } = await bench.get(`casing-strings/${of}/destructive-tests${query}`);
  expect(status).toBe(200);
  return (body['tests'] as Fields[]).find((one) => one['test'] === test) ?? {};
}

/** Number, state and metres of each sample. */
const standing = (found: Fields): unknown[] => (found['samples'] as { sample: { label: string }; state: string; represents: { intervals: { fromMm: number; toMm: number }[] } }[])
  .map(({ sample: { label }, state, represents }) => [label, state, represents.intervals.map(({ fromMm, toMm }) => [fromMm, toMm])]);

describe('the metres that destructive tests stand for', () => {
  test('each sample to the middle between two, a failure with two passed retests as such, a void test for nothing', async () => {
    const found = await covered('flattening');
    const tail = ['failed, retests passed', [[A.middleMm, A.toMm]]];
    expect(standing(found)).toEqual([
      ['A1', 'passed', [[A.fromMm, A.middleMm]]], ['A2', ...tail], ['A3', ...tail], ['A4', ...tail], ['B1', 'open', []], ['B2', 'passed', [[B.fromMm, B.toMm]]],
    ]);
    expect(found).toMatchObject({
      plan: [{ rule: 'coil-ends' }], represented: { lengthMm: 180_000 }, missing: { lengthMm: 0, intervals: [] },
      unsampledEnds: [{ atMm: B.fromMm, pipeLies: 'after' }],
      byState: [
        { state: 'failed, retests passed', metres: { lengthMm: 50_000 } },
        { state: 'passed', metres: { lengthMm: 130_000, intervals: [{ fromMm: A.fromMm, toMm: A.middleMm }, { fromMm: B.fromMm, toMm: B.toMm }] } },
      ],
    });
    const [, failed, retest, , isVoid] = found['samples'] as Fields[];
    expect(failed).toMatchObject({ because: expect.stringContaining('A2/1 failed, retests A3/1, A4/1 passed'), retestRule: expect.stringContaining('common practice'), results: [{ outcome: 'fail' }] });
    expect(retest).toMatchObject({ results: [{ outcome: 'pass', follows: 'A2/1' }], cut: expect.stringMatching(/^tail of coil /) });
    expect(isVoid).toMatchObject({ counts: false, rules: [], results: [{ outcome: 'void', voidReason: 'Cracked from a saw cut' }] });
  });

  test('as known before the retests: open, on the same metres', async () => {
    const found = await covered('flattening', `?asKnownAt=${encodeURIComponent(beforeRetests)}`);
    expect(standing(found)).toEqual([
      ['A1', 'passed', [[A.fromMm, A.middleMm]]], ['A2', 'open', [[A.middleMm, A.toMm]]], ['B1', 'open', []], ['B2', 'passed', [[B.fromMm, B.toMm]]],
    ]);
    expect((found['byState'] as Fields[])[0]).toMatchObject({ state: 'open', metres: { lengthMm: 50_000 } });
  });

  test('no sample, no metre; what is inferred is said', async () => {
    const found = await covered('flaring');
    expect(found).toMatchObject({ samples: [], represented: { lengthMm: 0 }, missing: { lengthMm: 180_000 } });
    expect((found['unsampledEnds'] as Fields[]).map(({ atMm }) => atMm)).toEqual([0, 100_000, 100_000, 180_000]);
    const { body } = await bench.get(`casing-strings/${stringId}/destructive-tests`);
    expect(body).toMatchObject({ pipe: { lengthMm: 180_000 }, inference: expect.stringContaining('inferred'), untested: [{ label: 'C1' }] });
  });

  test('a coupon stands for its splice alone; a test without a frequency represents no pipe', async () => {
    expect(await bench.enter('destructive-tests', hardness())).toMatchObject({ status: 201, body: { marks: [] } });
    const { body: splice } = await bench.get(`splices/${spliceId}`);
    const found = await covered('hardness');
    expect(standing(found)).toEqual([['C1', 'passed', [[splice['footageFromMm'], splice['footageToMm']]]]]);
    expect(found).toMatchObject({ plan: [], represented: { lengthMm: 0 }, missing: { lengthMm: 180_000 }, samples: [{ rules: [{ rule: 'coupon' }] }] });
  });

  test('a retest that fails is final, whatever passes afterwards', async () => {
    const flaring = (of: string, changes: Fields): Promise<string> => bench.made('destructive-tests', flattening(of, { kind: 'flaring', method: 'ISO 8493', ...changes }));
    const first = await flaring('A2', { outcome: 'fail' });
    const second = await flaring('A3', { outcome: 'fail', followsTestId: first, observedAt: '2026-03-02T11:00:00Z' });
    await flaring('A4', { followsTestId: second, observedAt: '2026-03-02T12:00:00Z' });
    const found = await covered('flaring');
    expect(standing(found)).toEqual(['A2', 'A3', 'A4'].map((number) => [number, 'failed', [[A.fromMm, A.toMm]]]));
    expect(found).toMatchObject({ byState: [{ state: 'failed', metres: { lengthMm: 100_000 } }], missing: { intervals: [{ fromMm: B.fromMm, toMm: B.toMm }] } });
  });

  test('a sample taken after a failure takes none of its metres, whatever it passed and however near it lies', async () => {
    const other = await bench.string();
    const coilId = await bench.coil();
    await bench.made('coil-segments', { stringId: other, coilId, from: { footageMm: 0 }, to: { footageMm: 100_000 }, stripFromMm: 0, stripToMm: 100_000, runs: 'head-first' });
    const cut = async (number: string, place: Fields): Promise<void> => { samples.set(number, await bench.made('test-samples', { ...sample({ number, ...place }), stringId: other })); };
    await cut('F1', { coilId, coilEnd: 'head' });
    await bench.made('destructive-tests', { ...flattening('F1', { outcome: 'fail' }), stringId: other });
    await cut('F2', { footageMm: 2, observedAt: '2026-03-02T10:30:00Z' });
    await bench.made('destructive-tests', { ...flattening('F2', { observedAt: '2026-03-02T11:00:00Z' }), stringId: other });
    const found = await covered('flattening', '', other);
    expect(standing(found)).toEqual([['F1', 'open', [[0, 100_000]]], ['F2', 'passed', [[1, 100_000]]]]);
    expect(found['byState']).toEqual([{ state: 'open', metres: { lengthMm: 100_000, intervals: [{ fromMm: 0, toMm: 100_000 }] } }]);
  });

  test('a retest on the piece that failed, on another coil or from nowhere is marked and does not count; its failure does', async () => {
    const other = await bench.string();
    const [own, foreign] = [await bench.coil(), await bench.coil()];
    const cut = async (number: string, place: Fields): Promise<void> => { samples.set(number, await bench.made('test-samples', { ...sample({ number, ...place }), stringId: other })); };
    await bench.made('coil-segments', { stringId: other, coilId: own, from: { footageMm: 0 }, to: { footageMm: 50_000 }, stripFromMm: 0, stripToMm: 50_000, runs: 'head-first' });
    await bench.made('coil-segments', { stringId: other, coilId: foreign, from: { footageMm: 50_000 }, to: { footageMm: 90_000 }, stripFromMm: 0, stripToMm: 40_000, runs: 'head-first' });
    for (const [number, place] of [['R1', { coilId: own, coilEnd: 'head' }], ['R2', { footageMm: 50_000 }], ['R3', { footageMm: 95_000 }], ['R4', { footageMm: 49_999 }]] as const) await cut(number, place);
    const enter = (of: string, changes: Fields): Promise<Answer> => bench.enter('destructive-tests', { ...flattening(of, changes), stringId: other });
    const failed = await enter('R1', { outcome: 'fail' });
    const retest = async (of: string, changes: Fields = {}): Promise<unknown> => (await enter(of, { followsTestId: failed.body['id'], observedAt: '2026-03-02T11:00:00Z', ...changes })).body['marks'];
    const marked = (kind: string, limit: string): unknown => [{ kind, field: 'testSampleId', limit: expect.stringContaining(limit) }];
    expect(await retest('R1')).toMatchObject(marked('out-of-specification', 'the very piece that failed') as unknown[]);
    expect(await retest('R2')).toMatchObject(marked('out-of-specification', 'another coil') as unknown[]);
    expect(await retest('R3')).toMatchObject(marked('noted', 'not shown to be cut from the same coil') as unknown[]);
    expect(await retest('R4')).toEqual([]);
    const because = async (): Promise<unknown> => ((await covered('flattening', '', other))['samples'] as Fields[])[0];
    expect(await because()).toMatchObject({ state: 'open', because: expect.stringMatching(/retests R4\/1 passed, R1\/2 passed and does not count.*R2\/1 passed and does not count.*R3\/1 passed and does not count.*1 more to pass/) });
    await retest('R2', { outcome: 'fail', observedAt: '2026-03-02T12:00:00Z' });
    expect(await because()).toMatchObject({ state: 'failed', because: expect.stringContaining('so did its retest R2/2') });
  });

  test('a coil numbered like another\'s stretch of pipe is answered like any', async () => {
    const other = await bench.string();
    const [own, alike] = [await bench.coil({ number: 'ZZ' }), await bench.coil({ number: 'ZZ from 60000 mm' })];
    for (const [coilId, fromMm, stripFromMm] of [[own, 0, 0], [own, 60_000, 40_000], [alike, 90_000, 0]] as const) {
      await bench.made('coil-segments', { stringId: other, coilId, from: { footageMm: fromMm }, to: { footageMm: fromMm + 10_000 }, stripFromMm, stripToMm: stripFromMm + 10_000, runs: 'head-first' });
    }
    expect((await covered('flattening', '', other))['unsampledEnds']).toHaveLength(6);
  });

  test('samples beside a stop and between the ends take over what is nearer; pipe that was cut out, and places without pipe, stand for nothing', async () => {
    const other = await bench.string();
    const coilId = await bench.coil();
    await bench.made('coil-segments', { stringId: other, coilId, from: { footageMm: 10_000 }, to: { footageMm: 90_000 }, stripFromMm: 0, stripToMm: 80_000, runs: 'head-first' });
    await bench.made('cut-outs', { stringId: other, from: { footageMm: 20_000 }, to: { footageMm: 21_000 }, cause: 'Tried cut' });
    for (const [number, place] of [
      ['T1', { coilId, coilEnd: 'head' }], ['T2', { stopFootageMm: 50_000, stopSide: 'before' }], ['T3', { footageMm: 70_000 }], ['T4', { footageMm: 5_000 }],
      ['T5', { stopFootageMm: 10_000, stopSide: 'before' }],
    ] as const) {
      samples.set(number, await bench.made('test-samples', sample({ stringId: other, number, ...place })));
      await bench.made('destructive-tests', flattening(number, { stringId: other }));
    }
    const found = await covered('flattening', '', other);
    // Middles by hand: (10 + 50) / 2 = 30 m and (50 + 70) / 2 = 60 m.
    expect(standing(found)).toEqual([
      ['T1', 'passed', [[10_000, 20_000], [21_000, 30_000]]], ['T2', 'passed', [[30_000, 60_000]]], ['T3', 'passed', [[60_000, 90_000]]], ['T4', 'passed', []], ['T5', 'passed', []],
    ]);
    expect(found).toMatchObject({ represented: { lengthMm: 79_000 }, missing: { lengthMm: 0 }, unsampledEnds: [{ atMm: 90_000, pipeLies: 'before' }] });
    expect((found['samples'] as Fields[]).map(({ cut }) => cut).slice(3)).toEqual([
      "at footage 5000 mm, where no coil's pipe is on record", "before the stop at 10000 mm, which no seam event records, where no coil's pipe is on record",
    ]);
    // A second sample of one place that fails, and is linked to nothing: its metres count once, as open.
    samples.set('T6', await bench.made('test-samples', sample({ stringId: other, number: 'T6', footageMm: 70_000 })));
    await bench.made('destructive-tests', flattening('T6', { stringId: other, outcome: 'fail' }));
    expect(await covered('flattening', '', other)).toMatchObject({
      represented: { lengthMm: 79_000 }, byState: [{ state: 'open', metres: { lengthMm: 30_000 } }, { state: 'passed', metres: { lengthMm: 49_000 } }],
    });
  });

  test('is asked of a string that there is, at a time when it was known', async () => {
    expect(await bench.get(`casing-strings/${uuidv7()}/destructive-tests`)).toMatchObject({ status: 404 });
    expect(await bench.get(`casing-strings/${stringId}/destructive-tests?asKnownAt=2020-01-01T00:00:00Z`)).toMatchObject({ status: 404 });
    expect(await bench.get(`casing-strings/${stringId}/destructive-tests?asKnownAt=soon`)).toMatchObject({ status: 400, body: { errors: [{ field: 'asKnownAt' }] } });
  });
});

describe('a result', () => {
  const withReading = (printed: string, outcome: string): Fields => hardness({ outcome, readings: [{ name: 'heat-affected zone', printed, unit: 'HV10', min: '150', max: '250' }] });

  test('that passes beside a reading beyond its limit is refused with both; as a fail it is taken and marked', async () => {
    const refused = await bench.enter('destructive-tests', withReading('250.1', 'pass'));
    expect(refused).toMatchObject({ status: 422, body: { errors: [{ field: 'readings[0].printed', value: '250.1', limit: 'for a pass, heat-affected zone from 150 to 250 HV10' }] } });
    const taken = await bench.enter('destructive-tests', withReading('250.1', 'fail'));
    expect(taken).toMatchObject({
      status: 201,
      body: { marks: [{ field: 'outcome' }, { kind: 'out-of-specification', field: 'readings[0].printed', value: '250.1', limit: 'heat-affected zone from 150 to 250 HV10' }] },
    });
    // A fail is the laboratory's to say, whatever the readings are; a value on its limit conforms.
    expect(await bench.enter('destructive-tests', withReading('250', 'fail'))).toMatchObject({ status: 201, body: { marks: [{ field: 'outcome' }] } });
    expect(await bench.enter('destructive-tests', withReading('250', 'pass'))).toMatchObject({ status: 201, body: { marks: [] } });
    expect(await bench.enter('destructive-tests', withReading('> 200', 'pass'))).toMatchObject({ status: 201, body: { marks: [{ kind: 'noted', limit: expect.stringContaining('not shown to be within') }] } });
  });

  test('stays later than what it follows, when either is amended; what is followed is not withdrawn, nor is its sample', async () => {
    const later = await bench.amend(`destructive-tests/${failedId}`, 1, { observedAt: '2026-03-02T11:00:00Z' });
    expect(later).toMatchObject({ status: 422, body: { errors: [{ field: 'observedAt', limit: expect.stringContaining('that follows it') }] } });
    expect(await bench.amend(`destructive-tests/${failedId}`, 1, { kind: 'flaring' })).toMatchObject({ status: 422, body: { errors: [{ field: 'kind' }] } });
    expect(await bench.amend(`destructive-tests/${failedId}`, 1, { followsTestId: failedId })).toMatchObject({ status: 422, body: { errors: [{ field: 'followsTestId' }] } });
    expect(await bench.withdraw(`destructive-tests/${failedId}`, 1)).toMatchObject({ status: 409 });
    expect(await bench.withdraw(`test-samples/${String(samples.get('A1'))}`, 1)).toMatchObject({ status: 409 });
  });
});

test('a sample whose way has a gap is taken and marked', async () => {
  const step = (at: string, from: string, to: string): Fields => ({ by: 'M. Oster', at: `2026-03-02T${at}:00Z`, from, to });
  const taken = await bench.enter('test-samples', sample({ number: 'G1', footageMm: 40_000, custody: [step('09:00', 'Line', 'Store'), step('10:00', 'Car', 'Laboratory')] }));
  expect(taken).toMatchObject({ status: 201, body: { marks: [{ kind: 'noted', field: 'custody[1].from', value: 'Car', limit: 'where it had come to: Store' }] } });
});

describe('a sample and its tests', () => {
  const TAKEN = '2026-03-02T08:15:00.000000Z';
  const TESTED = '2026-03-02T10:00:00.000000Z';

  test('keep their order, whichever is amended: the field, the value and the limit are told', async () => {
    const id = await bench.made('test-samples', sample({ number: 'O1', footageMm: 41_000 }));
    samples.set('O1', id);
    const testId = await bench.made('destructive-tests', flattening('O1'));
    const before = await databaseState(api.owner);
    const moved = await bench.amend(`test-samples/${id}`, 1, { observedAt: '2026-03-02T10:00:00.000001Z' });
    expect(moved).toMatchObject({ status: 422, body: { errors: [{ field: 'observedAt', value: '2026-03-02T10:00:00.000001Z', limit: `not after ${TESTED}, when it was first tested` }] } });
    const early = await bench.amend(`destructive-tests/${testId}`, 1, { observedAt: '2026-03-02T08:14:59Z' });
    expect(early).toMatchObject({ status: 422, body: { errors: [{ field: 'observedAt', value: '2026-03-02T08:14:59Z', limit: `not before ${TAKEN}, when sample O1 was taken` }] } });
    expect(await databaseState(api.owner)).toEqual(before);
    expect(await bench.amend(`test-samples/${id}`, 1, { observedAt: TESTED })).toMatchObject({ status: 200, body: { observedAt: TESTED } });
    // A test that was withdrawn holds the sample no longer.
    expect(await bench.withdraw(`destructive-tests/${testId}`, 1)).toMatchObject({ status: 200 });
    expect(await bench.amend(`test-samples/${id}`, 2, { observedAt: '2026-03-02T12:00:00Z' })).toMatchObject({ status: 200 });
  });

  test('moved and tested at once: one of the two is refused, each time', async () => {
    for (const number of ['P1', 'P2', 'P3', 'P4', 'P5', 'P6']) {
      const id = await bench.made('test-samples', sample({ number, footageMm: 42_000 }));
      samples.set(number, id);
      const [moved, tested] = await Promise.all([
        bench.amend(`test-samples/${id}`, 1, { observedAt: '2026-03-02T11:00:00Z' }), bench.enter('destructive-tests', flattening(number)),
      ]);
      expect([[200, 422], [422, 201]]).toContainEqual([moved.status, tested.status]);
    }
  });

  test('a sample names the record of its stop: one of this string, and a stop; another footage is marked', async () => {
    const weldProcedureId = await bench.made('weld-procedures', {
      number: 'WP-20', revision: 1, title: 'Seam of 5 mm strip', purpose: 'seam', process: 'HFW', effectiveFrom: '2025-06-01', ranges: [{ variable: 'power', min: '160', max: '200', unit: 'kW' }], lists: [],
    });
    const event = (of: string, kind: string): Promise<string> =>
      bench.made('seam-events', { stringId: of, event: kind, from: { footageMm: 60_000 }, weldProcedureId, readings: [], cause: 'Strip caught' });
    const [stop, restart, elsewhere] = [await event(stringId, 'stop'), await event(stringId, 'restart'), await event(await bench.string(), 'stop')];
    const beside = (number: string, seamEventId: string, stopFootageMm: number | null): Fields => sample({ number, stopFootageMm, stopSide: 'after', seamEventId });
    expect(await bench.enter('test-samples', beside('Q1', stop, 60_000))).toMatchObject({ status: 201, body: { seamEventId: stop, marks: [] } });
    expect(await bench.enter('test-samples', beside('Q2', stop, 60_010))).toMatchObject({ status: 201, body: { marks: [{ kind: 'noted', field: 'stopFootageMm', limit: 'where the stop is recorded: 60000 mm' }] } });
    for (const wrong of [restart, elsewhere, uuidv7()]) expect(await bench.enter('test-samples', beside('Q3', wrong, 60_000))).toMatchObject({ status: 422, body: { errors: [{ field: 'seamEventId', value: wrong }] } });
    expect(await bench.enter('test-samples', sample({ number: 'Q3', footageMm: 60_000, seamEventId: stop }))).toMatchObject({ status: 422, body: { errors: [{ field: 'seamEventId' }] } });
    expect(await bench.withdraw(`seam-events/${stop}`, 1)).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:held' } });
  });
});

describe('how a test was made', () => {
  const FLATTENED = {
    outsideDiameterMm: '127.0', wallThicknessMm: '5.00', flattenedOn: 'piece', pieceLengthMm: '60', plateWidthMm: '250', plateDistanceMm: '48.0', seamPositionDeg: '90',
    constant: { constant: '0.07', steel: 'S420MC, welded', source: 'STS-12 rev 3, clause 7.4' }, cracks: [],
  };
  const FLARED = {
    outsideDiameterMm: '127.0', wallThicknessMm: '5.00', pieceLengthMm: '200', coneAngleDeg: '60', flaredDiameterMm: '152.4', isCracked: false,
    requiredExpansion: { percent: '20', appliesTo: 'S420MC, welded', source: 'STS-12 rev 3, clause 7.5' },
  };
  const flattened = (changes: Fields = {}, more: Fields = {}): Fields => flattening('A1', { flattening: { ...FLATTENED, ...changes }, ...more });
  const flared = (changes: Fields = {}, more: Fields = {}): Fields => flattening('A1', { kind: 'flaring', method: 'ISO 8493', flaring: { ...FLARED, ...changes }, ...more });

  const asked = async (id: string, query = ''): Promise<Fields> => {
    const { status, body } = await bench.get(`destructive-tests/${id}/checks${query}`);
    expect(status).toBe(200);
    return body;
  };
  const checked = async (content: Fields): Promise<Fields> => asked(await bench.made('destructive-tests', content));
  const outcomes = (answer: Fields): unknown[] => (answer['checks'] as Fields[]).map(({ name, outcome }) => [name, outcome]);
  const marks = ({ body }: Answer): unknown[] => (body['marks'] as Fields[]).map(({ kind, field }) => [kind, field]);

  test('a flattening is held against its standard and its constant, and says what it strained', async () => {
    const entered = await bench.enter('destructive-tests', flattened());
    expect(entered).toMatchObject({ status: 201, body: { marks: [], flattening: { ...FLATTENED, cutDepthMm: null }, flaring: null, reverseBend: null, reverseFlattening: null } });
    const answer = await asked(String(entered.body['id']));
    expect(outcomes(answer)).toEqual([
      ['outside diameter', 'met'], ['wall thickness', 'met'], ['piece length', 'met'], ['plate width', 'met'], ['plate distance', 'met'], ['cracks', 'met'], ['seam position', 'not computable'],
    ]);
    // H = 1.07 · 5 / (0.07 + 5/127) = 48.9165 mm by hand; e = 5 · (127 − 48) / (127 · (48 − 5)) = 395/5461.
    expect((answer['checks'] as Fields[])[4]).toMatchObject({ found: '48.0 mm', demanded: 'at most 48.9165 mm, from e = 0.07 (S420MC, welded)', source: 'STS-12 rev 3, clause 7.4' });
    expect((answer['checks'] as Fields[])[3]).toMatchObject({ field: 'flattening.plateWidthMm', found: '250 mm', demanded: 'at least 1.6 D = 203.2 mm', source: expect.stringContaining('ISO 8492') });
    expect(answer).toMatchObject({
      test: { id: entered.body['id'] }, sample: { label: 'A1' }, notMet: 0, notComputable: 1, fold: null, words: 'stated as pass; of 7 checks 6 are met, 0 not met, 1 not computable',
      strains: [{ value: expect.closeTo(395 / 5461, 12), because: expect.stringContaining('e = t (D − H) / (D (H − t))') }, { value: expect.closeTo(Math.log(1 + 395 / 5461), 12) }],
    });
  });

  test('what nobody recorded is not computable, and says why; without any record every check is there all the same', async () => {
    const bare = await checked(flattened({ pieceLengthMm: null, plateWidthMm: null, plateDistanceMm: null, constant: null, cracks: null, seamPositionDeg: null }));
    expect(outcomes(bare)).toEqual([
      ['outside diameter', 'met'], ['wall thickness', 'met'], ['piece length', 'not computable'], ['plate width', 'not computable'], ['plate distance', 'not computable'], ['cracks', 'not computable'],
      ['seam position', 'not computable'],
    ]);
    expect((bare['checks'] as Fields[]).slice(2).map(({ because }) => because)).toEqual([
      expect.stringContaining('piece length is not recorded'), expect.stringContaining('plate width is not recorded'), expect.stringContaining('no deformation constant is recorded'),
      'nobody says whether cracks were looked for', expect.stringContaining('it is not recorded, and no demand on it is on record'),
    ]);
    expect(bare['strains']).toMatchObject([{ value: null, because: 'not computable: the distance between the plates is not recorded' }, { value: null }]);
    const none = await checked(flattening('A1'));
    expect(none).toMatchObject({ notComputable: 7, notMet: 0, strains: [{ value: null }, { value: null }] });
    expect((none['checks'] as Fields[]).every(({ because }) => because === 'the record has no flattening: nothing says how the test was made')).toBe(true);
    const unflared = await checked(flattening('A1', { kind: 'flaring', method: 'ISO 8493' }));
    expect(unflared).toMatchObject({ notComputable: 4, fold: { reachesFold: null, because: expect.stringContaining('the diameter ratio κ of the string is not recorded; the record has no flaring') } });
    expect(await checked(flattening('A1', { kind: 'reverse-bend', method: 'Works method' }))).toMatchObject({ notComputable: 1, checks: [{ name: 'reverse bend' }], strains: [], fold: null });
    expect(await checked(flattening('A1', { kind: 'macro', method: 'ISO 17639' }))).toMatchObject({ checks: [], words: 'stated as pass; nothing was recorded that could be checked' });
  });

  test('a flare is held against what is demanded, and beside the fold where κ is known', async () => {
    const withRatio = await bench.string({ diameterRatio: '1.16', diameterRatioU: '0.01' });
    const testSampleId = await bench.made('test-samples', sample({ stringId: withRatio, number: 'K1', footageMm: 1_000 }));
    const onFold = (changes: Fields, more: Fields = {}): Promise<Fields> => checked(flared(changes, { stringId: withRatio, testSampleId, ...more }));
    const answer = await onFold({});
    expect(outcomes(answer)).toEqual([['piece length', 'met'], ['cone angle', 'met'], ['expansion of the outside diameter', 'met'], ['cracks', 'met']]);
    expect(answer).toMatchObject({
      strains: [{ value: 20, unit: '%', because: expect.stringContaining('ISO 8493') }, { value: expect.closeTo(Math.log(1.2), 12) }],
      fold: { reachesFold: true, expansionPercent: 20, foldExpansionPercent: 16, because: expect.stringContaining('Advisory.'), cautions: [expect.stringContaining('The responsible engineer decides'), {}, {}, {}] },
    });
    expect(await onFold({ isCracked: true }, { outcome: 'fail' })).toMatchObject({ fold: { reachesFold: false }, notMet: 1 });
    expect(await onFold({ isCracked: null })).toMatchObject({ fold: { reachesFold: null, because: 'not computable: nobody says whether the flare cracked' }, notComputable: 1 });
    expect(await onFold({ flaredDiameterMm: null })).toMatchObject({ fold: { reachesFold: null, because: 'not computable: the diameter of the flare is not recorded' }, strains: [{ value: null }, { value: null }] });
    const undemanded = await onFold({ requiredExpansion: null });
    expect((undemanded['checks'] as Fields[])[2]).toMatchObject({ outcome: 'not computable', because: expect.stringContaining('no required expansion is recorded') });
    const graded = await onFold({ requiredExpansion: null, grade: 'WC1' });
    // d/D = (127 − 10)/127 = 0.921, over 0.8: 19 %.
    expect((graded['checks'] as Fields[])[2]).toMatchObject({ outcome: 'met', demanded: expect.stringContaining('at least 19 %'), source: expect.stringContaining('59(b)') });
    expect((await onFold({ grade: 'WC3' }))['checks']).toMatchObject([{}, {}, { outcome: 'met' }, { outcome: 'not computable', because: expect.stringContaining('no required expansion with a source for grade WC3') }, {}]);
    expect(await checked(flared())).toMatchObject({ fold: { reachesFold: null, because: 'not computable: the diameter ratio κ of the string is not recorded' } });
    // A corrected κ counts from when it was known.
    expect(await bench.amend(`casing-strings/${withRatio}`, 1, { diameterRatio: '1.25' })).toMatchObject({ status: 200 });
    const { id, version } = answer['test'] as { id: string; version: number };
    expect(await asked(id)).toMatchObject({ test: { version }, fold: { reachesFold: false, foldExpansionPercent: 25 } });
    const before = (await bench.get(`destructive-tests/${id}`)).body['recordedAt'];
    expect(await asked(id, `?asKnownAt=${encodeURIComponent(String(before))}`)).toMatchObject({ fold: { reachesFold: true, foldExpansionPercent: 16 } });
  });

  test('a reverse bend and a reverse flattening are held against what is demanded of them; readings against their own limits', async () => {
    const bent = await bench.enter('destructive-tests', flattening('A1', { kind: 'reverse-bend', method: 'Works method', reverseBend: { bends: 1, crackAtWeld: false }, reverseFlattening: { openedFlat: true, crackAtWeld: null } }));
    expect(marks(bent)).toEqual([['out-of-specification', 'reverseBend']]);
    const answer = await asked(String(bent.body['id']));
    expect(answer['checks']).toMatchObject([
      { outcome: 'not met', found: 'bent back and forth 1 time, no crack at the weld', demanded: '2 times along the weld without cracking', source: expect.stringContaining('of little authority') },
      { outcome: 'not computable', because: expect.stringContaining('cracks not recorded') },
    ]);
    expect(await checked(flattening('A1', { reverseFlattening: { openedFlat: true, crackAtWeld: false } }))).toMatchObject({ checks: [{ name: 'reverse flattening', outcome: 'met' }], strains: [] });
    const read = await checked(hardness({ outcome: 'fail', readings: [
      { name: 'weld metal', printed: '212', unit: 'HV10', max: '250' }, { name: 'heat-affected zone', printed: '268', unit: 'HV10', max: '250' },
      { name: 'parent', printed: '190', unit: 'HV10' }, { name: 'other scale', printed: '21', unit: 'HRC' },
    ] }));
    expect(read).toMatchObject({
      notMet: 1, notComputable: 2, checks: [
        { outcome: 'met', found: '212 HV10', demanded: 'at most 250 HV10' }, { outcome: 'not met' }, { outcome: 'not computable', because: 'no limit is recorded beside the reading' }, { outcome: 'not computable' },
      ],
    });
  });

  test('a pass beside a limit of its own that is not met is refused, as with a reading; beside a demand of a standard it is taken and marked', async () => {
    const state = await databaseState(api.owner);
    const far = await bench.enter('destructive-tests', flattened({ plateDistanceMm: '48.92' }));
    expect(far).toMatchObject({ status: 422, body: { errors: [{ field: 'flattening.plateDistanceMm', value: '48.92 mm', limit: expect.stringMatching(/^for a pass, plate distance: at most 48\.9165 mm/) }] } });
    expect(await bench.enter('destructive-tests', flared({ flaredDiameterMm: '152.3' }))).toMatchObject({ status: 422, body: { errors: [{ field: 'flaring.flaredDiameterMm' }] } });
    expect(await databaseState(api.owner)).toEqual(state);
    expect(marks(await bench.enter('destructive-tests', flattened({ plateDistanceMm: '48.92' }, { outcome: 'fail' })))).toEqual([
      ['out-of-specification', 'outcome'], ['out-of-specification', 'flattening.plateDistanceMm'],
    ]);
    expect(marks(await bench.enter('destructive-tests', flattened({ plateDistanceMm: '48.92' }, { outcome: 'void', voidReason: 'Plates not level', stated: null })))).toEqual([['noted', 'flattening.plateDistanceMm']]);
    const marked = await bench.enter('destructive-tests', flattened({ pieceLengthMm: '100.1', cracks: [{ length: '3.3', unit: 'mm', place: 'elsewhere' }, { length: '6.3', unit: 'mm', place: 'edge' }] }));
    expect(marked).toMatchObject({ status: 201, body: { marks: [
      { kind: 'out-of-specification', field: 'flattening.pieceLengthMm', value: '100.1 mm', limit: 'piece length: 10 to 100 mm (ISO 8492:2013 (from an extract of it))' },
      { kind: 'out-of-specification', field: 'flattening.cracks', value: '2, of which 1 rejected' },
    ] } });
    expect(await asked(String(marked.body['id']))).toMatchObject({ notMet: 2, outcome: 'pass' });
    // Amended to what was met, the marks are gone; as known before, they stand.
    const amended = await bench.amend(`destructive-tests/${String(marked.body['id'])}`, 1, { flattening: FLATTENED });
    expect(amended).toMatchObject({ status: 200, body: { marks: [] } });
    expect(await asked(String(marked.body['id']))).toMatchObject({ test: { version: 2 }, notMet: 0 });
    expect(await asked(String(marked.body['id']), `?asKnownAt=${encodeURIComponent(String(marked.body['recordedAt']))}`)).toMatchObject({ test: { version: 1 }, notMet: 2 });
  });

  test('is asked of a test that there is, at a time when it was known', async () => {
    expect(await bench.get(`destructive-tests/${uuidv7()}/checks`)).toMatchObject({ status: 404 });
    expect(await bench.get(`destructive-tests/${failedId}/checks?asKnownAt=2020-01-01T00:00:00Z`)).toMatchObject({ status: 404 });
    expect(await bench.get(`destructive-tests/${failedId}/checks?asKnownAt=soon`)).toMatchObject({ status: 400, body: { errors: [{ field: 'asKnownAt' }] } });
  });

  test('that cannot be, or belongs to another test, is refused field by field, and nothing is written', async () => {
    const refused: readonly [number, string[], Fields][] = [
      [422, ['flattening'], flattened({}, { kind: 'macro' })],
      [422, ['flaring'], flared({}, { kind: 'flattening' })],
      [422, ['reverseBend', 'reverseFlattening'], flattening('A1', { kind: 'tensile', reverseBend: {}, reverseFlattening: {} })],
      [422, ['reverseFlattening'], flattened({}, { reverseFlattening: {} })],
      [422, ['flattening.wallThicknessMm'], flattened({ wallThicknessMm: '63.5', plateDistanceMm: '100' })],
      [422, ['flattening.plateDistanceMm'], flattened({ plateDistanceMm: '5.00' })],
      [422, ['flattening.plateDistanceMm'], flattened({ plateDistanceMm: '127.1' })],
      [422, ['flattening.cutDepthMm'], flattened({ cutDepthMm: '110' })],
      [422, ['flattening.pieceLengthMm'], flattened({ flattenedOn: 'tube-end', cutDepthMm: '110' })],
      [422, ['flaring.wallThicknessMm', 'flaring.flaredDiameterMm'], flared({ wallThicknessMm: '63.5', flaredDiameterMm: '126.9' })],
      [400, ['flattening'], flattening('A1', { flattening: [] })],
      [400, ['flattening.flattenedOn', 'flattening.outsideDiameterMm'], flattened({ outsideDiameterMm: 127, flattenedOn: 'floor' })],
      [400, ['flattening.constant.constant', 'flattening.constant.source'], flattened({ constant: { constant: '0', steel: 'WC1', source: ' ' } })],
      [400, ['flattening.cracks[0].length', 'flattening.cracks[0].unit', 'flattening.cracks[0].place'], flattened({ cracks: [{ length: '-1', unit: 'cm', place: 'middle' }] })],
      [400, ['flaring.coneAngleDeg', 'flaring.isCracked'], flared({ coneAngleDeg: '180', isCracked: 'no' })],
      [400, ['flaring.requiredExpansion.percent'], flared({ requiredExpansion: { percent: '0', appliesTo: 'all', source: 'STS-12' } })],
      [400, ['reverseBend.bends'], flattening('A1', { kind: 'reverse-bend', reverseBend: { bends: -1 } })],
      [400, ['flattening.colour'], flattened({ colour: 'red' })],
    ];
    const state = await databaseState(api.owner);
    for (const [status, fields, body] of refused) {
      const answer = await bench.enter('destructive-tests', body);
      expect({ body, status: answer.status, fields: (answer.body['errors'] as Fields[]).map(({ field }) => field) }).toEqual({ body, status, fields });
    }
    expect(await databaseState(api.owner)).toEqual(state);
  });
});

test('the database itself takes no sample of two origins or of none, and no result without what it says', async () => {
  const origin = { coilId: null, coilEnd: null, stopFootageMm: null, stopSide: null, seamEventId: null, footageMm: null, spliceId: null };
  const cut = (number: string, changes: Fields): Promise<string> =>
    said(bench.stand(TestSample, { stringId, number, orientation: 'transverse', custody: [], note: null, ...origin, ...changes }));
  expect(await cut('D1', {})).toBe('ck_test_sample_origin');
  expect(await cut('D1', { footageMm: 1, spliceId })).toBe('ck_test_sample_origin');
  expect(await cut('D1', { coilId: coilA })).toBe('ck_test_sample_coil_end');
  expect(await cut('D1', { stopFootageMm: 1 })).toBe('ck_test_sample_stop_side');
  expect(await cut('D1', { footageMm: -1 })).toBe('ck_test_sample_footage');
  expect(await cut('D1', { stopFootageMm: -1, stopSide: 'after' })).toBe('ck_test_sample_footage');
  expect(await cut('c1', { footageMm: 1 })).toBe('uq_test_sample_number');
  expect(await cut('D1', { footageMm: 0 })).toBe('taken');
  const result = (changes: Fields): Promise<string> => said(bench.stand(DestructiveTest, {
    stringId, testSampleId: samples.get('C1'), kind: 'macro', method: 'ISO 17639', laboratory: 'Site laboratory', readings: null, stated: 'Sound', outcome: 'pass', voidReason: null,
    followsTestId: null, flattening: null, flaring: null, reverseBend: null, reverseFlattening: null, note: null, ...changes,
  }));
  expect(await result({ outcome: 'void' })).toBe('ck_destructive_test_void');
  expect(await result({ voidReason: 'Saw cut' })).toBe('ck_destructive_test_void');
  expect(await result({ stated: null })).toBe('ck_destructive_test_result');
  expect(await result({ readings: [] })).toBe('ck_destructive_test_result');
  expect(await result({ outcome: 'void', voidReason: 'Saw cut', stated: null })).toBe('taken');
  const id = uuidv7();
  expect(await result({ id, followsTestId: id })).toBe('ck_destructive_test_follows');
});

/** The constraint that refused a write, or `taken`. */
async function said(write: Promise<unknown>): Promise<string> {
  try {
    await write;
    return 'taken';
  } catch (error) {
    return sqlRefusal(error)?.constraint ?? String(error);
  }
}

test('what cannot be, or does not go together, is refused field by field, and nothing is written', async () => {
  const elsewhere = await bench.string();
  const before = await databaseState(api.owner);
  const refused = async (path: string, body: Fields, status: number, fields: string[]): Promise<void> => {
    const answer: Answer = await bench.enter(path, body);
    const errors = answer.body['errors'] as Fields[];
    expect({ body, status: answer.status, fields: errors.map(({ field }) => field) }).toEqual({ body, status, fields });
  };
  const step = (at: string): Fields => ({ by: 'M. Oster', at, from: 'Line', to: 'Store' });
  await refused('test-samples', sample({ number: 'X' }), 422, ['coilId']);
  await refused('test-samples', sample({ number: 'X', coilId: coilA, coilEnd: 'head', spliceId }), 422, ['coilId', 'spliceId']);
  await refused('test-samples', sample({ number: 'X', coilId: coilA }), 422, ['coilEnd']);
  await refused('test-samples', sample({ number: 'X', footageMm: 1000, stopSide: 'after' }), 422, ['stopSide']);
  await refused('test-samples', sample({ number: 'X', footageMm: 4_000_000 }), 422, ['footageMm']);
  await refused('test-samples', sample({ number: 'X', footageMm: -1, orientation: 'slanted' }), 400, ['footageMm', 'orientation']);
  await refused('test-samples', sample({ number: 'X', spliceId: uuidv7() }), 422, ['spliceId']);
  await refused('test-samples', sample({ number: 'X', spliceId, stringId: elsewhere }), 422, ['spliceId']);
  await refused('test-samples', sample({ number: 'X', footageMm: 1, custody: [step('2026-03-02T08:14:59Z')] }), 422, ['custody[0].at']);
  await refused('test-samples', sample({ number: 'X', footageMm: 1, custody: [step('2026-03-02T12:00:00+01:00'), step('2026-03-02T10:59:00Z')] }), 422, ['custody[1].at']);
  await refused('test-samples', sample({ number: 'a1', footageMm: 1 }), 409, ['number']);
  await refused('destructive-tests', hardness({ readings: [{ name: 'weld', printed: '2,12', unit: 'HV10' }] }), 400, ['readings[0].printed']);
  await refused('destructive-tests', hardness({ stated: 'Sound' }), 422, ['stated']);
  await refused('destructive-tests', hardness({ readings: null }), 422, ['readings']);
  await refused('destructive-tests', hardness({ readings: [{ name: 'weld', printed: '212', unit: 'HV10', min: '250', max: '150' }] }), 422, ['readings[0].max']);
  await refused('destructive-tests', hardness({ outcome: 'void' }), 422, ['voidReason']);
  await refused('destructive-tests', hardness({ voidReason: 'Saw cut' }), 422, ['voidReason']);
  await refused('destructive-tests', hardness({ outcome: 'open', kind: 'bend' }), 400, ['kind', 'outcome']);
  await refused('destructive-tests', hardness({ testSampleId: uuidv7() }), 422, ['testSampleId']);
  await refused('destructive-tests', hardness({ stringId: elsewhere }), 422, ['testSampleId']);
  await refused('destructive-tests', hardness({ observedAt: '2026-03-02T08:14:59Z' }), 422, ['observedAt']);
  await refused('destructive-tests', hardness({ followsTestId: failedId }), 422, ['followsTestId', 'observedAt']);
  await refused('destructive-tests', flattening('A3', { followsTestId: failedId }), 422, ['observedAt']);
  await refused('destructive-tests', flattening('A3', { followsTestId: uuidv7() }), 422, ['followsTestId']);
  expect(await databaseState(api.owner)).toEqual(before);
});
