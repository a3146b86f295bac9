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

test('the database itself takes no sample of two origins or of none, and no result without what it says', async () => {
  const origin = { coilId: null, coilEnd: null, stopFootageMm: null, stopSide: null, footageMm: null, spliceId: null };
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
    followsTestId: null, note: null, ...changes,
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
