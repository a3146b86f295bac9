import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { startTestApi, type TestApi } from '../setup/api.js';
import { databaseState } from '../setup/database-state.js';
import { StringBench, type Fields } from '../setup/string-bench.js';

/**
 * The site is an hour ahead of UTC. Coil A made the pipe of 0 to 100 m on 2 March, coil B that of 100 to 180 m from half past
 * midnight of 10 March on by the site's clock, which is 9 March in UTC. Revision 1 is in force from 1 March, revision 2 from
 * 10 March on.
 */
const A = { fromMm: 0, toMm: 100_000 };
const B = { fromMm: 100_000, toMm: 180_000 };
/** Recorded stops: one with a sample before it, one that nobody sampled, one under the revision that asks nothing of stops. */
const STOPS = { sampledMm: 50_000, bareMm: 70_000, laterMm: 140_000 };

let api: TestApi;
let bench: StringBench;
let stringId: string;
let coils: { a: string; b: string };
let plans: { first: string; second: string; spare: string };
let assignments: { first: string; second: string };
/** When nothing of plans was known; then revision 1 alone. */
let known: { beforePlans: string; beforeSecond: string };
const samples = new Map<string, string>();

const plan = (changes: Fields = {}): Fields => ({
  number: 'SP-1', revision: 1, title: 'Destructive tests of the main string', effectiveFrom: '2025-06-01',
  tests: [
    { test: 'flattening', rules: [{ rule: 'coil-ends' }, { rule: 'stop-sides' }], retestAllowed: true, passingRetestsPerFailure: 2, source: 'STS-12 rev 3, clause 7.4' },
    { test: 'flaring', rules: [{ rule: 'every-length', everyMm: 40_000 }], retestAllowed: false, source: 'STS-12 rev 3, clause 7.5' },
    { test: 'hardness', rules: [], retestAllowed: true, passingRetestsPerFailure: 1, source: 'STS-12 rev 3, clause 7.6' },
  ],
  ...changes,
});

const SECOND = {
  revision: 2, effectiveFrom: '2026-03-10',
  tests: [{ test: 'flattening', rules: [{ rule: 'coil-ends' }], retestAllowed: true, passingRetestsPerFailure: 1, source: 'STS-12 rev 4, clause 7.4' }],
};

const result = (of: string, changes: Fields = {}): Fields => ({
  stringId, testSampleId: samples.get(of), kind: 'flattening', method: 'ISO 8492', laboratory: 'Site laboratory', stated: 'No crack seen', outcome: 'pass',
  observedAt: '2026-03-02T12:00:00Z', ...changes,
});

async function sampled(number: string, place: Fields, observedAt = '2026-03-02T10:00:00Z'): Promise<void> {
  samples.set(number, await bench.made('test-samples', { stringId, number, orientation: 'full-section', observedAt, ...place }));
}

beforeAll(async () => {
  api = await startTestApi();
  bench = await StringBench.on(api);
  const wellId = await bench.made('wells', { name: 'Lindmoor Geothermal 3', datum: 'Top of the guide frame', timeZone: 'Etc/GMT-1' });
  stringId = await bench.string({ wellId });
  coils = { a: await bench.coil(), b: await bench.coil() };
  const segment = (coilId: string, { fromMm, toMm }: typeof A, observedAt: string): Promise<string> => bench.made('coil-segments', {
    stringId, coilId, from: { footageMm: fromMm }, to: { footageMm: toMm }, stripFromMm: 0, stripToMm: toMm - fromMm, runs: 'head-first', observedAt,
  });
  await segment(coils.a, A, '2026-03-02T08:15:00Z');
  await segment(coils.b, B, '2026-03-09T23:30:00Z');
  const procedureId = await bench.made('weld-procedures', {
    number: 'WP-20', revision: 1, title: 'Seam of 5 mm strip', purpose: 'seam', process: 'HFW', effectiveFrom: '2025-06-01',
    ranges: [{ variable: 'power', min: '160', max: '200', unit: 'kW' }], lists: [],
  });
  for (const footageMm of Object.values(STOPS)) {
    await bench.made('seam-events', { stringId, event: 'stop', from: { footageMm }, weldProcedureId: procedureId, readings: [], cause: 'Strip caught' });
  }
  await sampled('A1', { coilId: coils.a, coilEnd: 'head' });
  await sampled('A2', { stopFootageMm: STOPS.sampledMm, stopSide: 'before' });
  await sampled('A3', { footageMm: 10_000 });
  await sampled('B1', { coilId: coils.b, coilEnd: 'tail' }, '2026-03-10T08:00:00Z');
  for (const number of ['A1', 'A2']) await bench.made('destructive-tests', result(number));
  const last = await bench.enter('destructive-tests', result('B1', { observedAt: '2026-03-10T09:00:00Z' }));
  const assigned = async (samplingPlanId: string, fromDay: string): Promise<Fields> =>
    (await bench.enter('sampling-plan-assignments', { stringId, samplingPlanId, fromDay })).body;
  plans = { first: await bench.made('sampling-plans', plan()), second: await bench.made('sampling-plans', plan(SECOND)), spare: await bench.made('sampling-plans', plan({ revision: 3 })) };
  const first = await assigned(plans.first, '2026-03-01');
  const second = await assigned(plans.second, '2026-03-10');
  assignments = { first: String(first['id']), second: String(second['id']) };
  known = { beforePlans: String(last.body['recordedAt']), beforeSecond: String(first['recordedAt']) };
}, 60_000);
afterAll(() => api.close());

async function coverage(query = ''): Promise<Fields> {
  const { status, body } = await bench.get(`casing-strings/${stringId}/destructive-tests${query}`);
  expect(status).toBe(200);
  return body;
}

const asKnown = (instant: string): string => `?asKnownAt=${encodeURIComponent(instant)}`;
const ofTest = (body: Fields, test: string): Fields => (body['tests'] as Fields[]).find((one) => one['test'] === test) ?? {};
const ends = (found: Fields): unknown[] => (found['unsampledEnds'] as Fields[]).map(({ atMm, pipeLies }) => [atMm, pipeLies]);
const inForce = (body: Fields): unknown[] => (body['plans'] as { plan: { label: string } | null; fromDay: string; pipe: { lengthMm: number } }[])
  .map(({ plan: revision, fromDay, pipe }) => [revision?.label ?? null, fromDay, pipe.lengthMm]);
const standing = (found: Fields): unknown[] => (found['samples'] as { sample: { label: string }; state: string; represents: { intervals: { fromMm: number; toMm: number }[] } }[])
  .map(({ sample: { label }, state, represents }) => [label, state, represents.intervals.map(({ fromMm, toMm }) => [fromMm, toMm])]);

describe('the plan in force', () => {
  test('is that of the local day of the first entry of the pipe of each coil, and is named with its revision', async () => {
    const body = await coverage();
    expect(inForce(body)).toEqual([['SP-1 revision 1', '2026-03-01', 100_000], ['SP-1 revision 2', '2026-03-10', 80_000]]);
    expect(body['plans']).toMatchObject([
      { plan: { kind: 'sampling-plan', id: plans.first, version: 1 }, assignment: { id: assignments.first }, words: 'SP-1 revision 1, in force from 2026-03-01' }, { plan: { id: plans.second } },
    ]);
    expect(body['caution']).not.toContain('starting value');
    const flattening = ofTest(body, 'flattening');
    expect(flattening).toMatchObject({
      plan: [
        { rule: 'coil-ends', by: 'SP-1 revision 1', source: expect.stringContaining('STS-12 rev 3, clause 7.4') }, { rule: 'stop-sides', by: 'SP-1 revision 1' },
        { rule: 'coil-ends', by: 'SP-1 revision 2', source: expect.stringContaining('STS-12 rev 4, clause 7.4') },
      ],
      basis: ['SP-1 revision 1, in force from 2026-03-01, demands the samples.', 'SP-1 revision 2, in force from 2026-03-10, demands the samples.'],
    });
    // In coil A no sample stands for pipe beyond a stop, recorded by whomever; in coil B the stop parts nothing.
    expect(standing(flattening)).toEqual([['A1', 'passed', [[0, 25_000]]], ['A2', 'passed', [[25_000, 50_000]]], ['B1', 'passed', [[100_000, 180_000]]]]);
    expect(flattening).toMatchObject({ missing: { intervals: [{ fromMm: 50_000, toMm: 100_000 }] } });
  });

  test('a stop on record that nobody sampled has two unsampled sides; the stop that the plan asks nothing of has none', async () => {
    const body = await coverage();
    expect(ends(ofTest(body, 'flattening'))).toEqual([[50_000, 'after'], [70_000, 'before'], [70_000, 'after'], [100_000, 'before'], [100_000, 'after']]);
    expect(body['stops']).toMatchObject(Object.values(STOPS).map((atMm) => ({ atMm, plusMinusMm: 0, isOnPipe: true, recordedBy: [{ kind: 'seam-event', label: `stop at ${atMm} mm` }] })));
  });

  test('as known before any plan: the starting values, and the answer says so; before revision 2: revision 1 for all', async () => {
    const before = await coverage(asKnown(known.beforePlans));
    expect(inForce(before)).toEqual([[null, null, 180_000]]);
    expect(before).toMatchObject({
      plans: [{ plan: null, assignment: null, words: 'No sampling plan was in force when this pipe was made: the starting values apply.' }],
      caution: expect.stringContaining('No sampling plan was in force for part of it'),
    });
    const flattening = ofTest(before, 'flattening');
    expect(flattening).toMatchObject({ plan: [{ rule: 'coil-ends', by: 'starting value' }], basis: ['No sampling plan was in force: the starting value applies.'] });
    expect(standing(flattening)).toEqual([['A1', 'passed', [[0, 25_000]]], ['A2', 'passed', [[25_000, 100_000]]], ['B1', 'passed', [[100_000, 180_000]]]]);
    expect(flattening).toMatchObject({ samples: [{ retestRule: expect.stringContaining('a starting value: no sampling plan was in force') }, {}, {}] });
    expect(ofTest(before, 'hardness')).toMatchObject({ plan: [], basis: ['No sampling plan was in force, and there is no starting value: no sample is demanded.'] });
    const between = await coverage(asKnown(known.beforeSecond));
    expect(inForce(between)).toEqual([['SP-1 revision 1', '2026-03-01', 180_000]]);
    expect(ends(ofTest(between, 'flattening'))).toContainEqual([STOPS.laterMm, 'after']);
  });

  test('a sample every so much pipe stands for what follows it; a test that the plan leaves out has no frequency, and is told so', async () => {
    await bench.made('destructive-tests', result('A3', { kind: 'flaring', method: 'ISO 8493' }));
    const flaring = ofTest(await coverage(), 'flaring');
    expect(standing(flaring)).toEqual([['A3', 'passed', [[10_000, 50_000]]]]);
    expect(flaring).toMatchObject({
      plan: [{ rule: 'every-length', by: 'SP-1 revision 1', words: expect.stringContaining('Every 40 m') }], samples: [{ rules: [{ by: 'SP-1 revision 1' }] }],
      basis: ['SP-1 revision 1, in force from 2026-03-01, demands the samples.', 'SP-1 revision 2, in force from 2026-03-10, sets no frequency for flaring: no sample is demanded.'],
      missing: { lengthMm: 140_000 }, unsampledEnds: [],
    });
    expect(ofTest(await coverage(), 'hardness')).toMatchObject({ plan: [], basis: [expect.stringContaining('sets no frequency for hardness'), expect.stringContaining('sets no frequency for hardness')] });
  });

  test('a sample goes with the record of its stop; a stop that only a sample names, one where no pipe is on record, and an end that was cut out are told as such', async () => {
    const other = await bench.string();
    const coilId = await bench.coil();
    await bench.made('coil-segments', { stringId: other, coilId, from: { footageMm: 10_000 }, to: { footageMm: 90_000 }, stripFromMm: 0, stripToMm: 80_000, runs: 'head-first' });
    await bench.made('cut-outs', { stringId: other, from: { footageMm: 10_000 }, to: { footageMm: 12_000 }, cause: 'Tried cut' });
    const periodId = await bench.made('counter-periods', { stringId: other, observedAt: '2026-03-02T06:00:00Z', startReading: '0', startFootageMm: 0, scaleMmPerCount: '1.0000', scaleRelativeU: '0.0005' });
    const weldProcedureId = await bench.made('weld-procedures', {
      number: 'WP-21', revision: 1, title: 'Seam of 5 mm strip', purpose: 'seam', process: 'HFW', effectiveFrom: '2025-06-01', ranges: [{ variable: 'power', min: '160', max: '200', unit: 'kW' }], lists: [],
    });
    const stopped = (from: Fields): Promise<string> => bench.made('seam-events', { stringId: other, event: 'stop', from, weldProcedureId, readings: [], cause: 'Strip caught' });
    const countedId = await stopped({ counterReading: '40000' });
    await stopped({ footageMm: 5_000 });
    await bench.made('sampling-plan-assignments', { stringId: other, samplingPlanId: plans.first, fromDay: '2026-03-01' });
    const cut = async (number: string, place: Fields): Promise<void> => {
      const testSampleId = await bench.made('test-samples', { stringId: other, number, orientation: 'full-section', ...place });
      await bench.made('destructive-tests', result('', { stringId: other, testSampleId }));
    };
    await cut('N1', { stopFootageMm: 40_000, stopSide: 'before', seamEventId: countedId });
    await cut('N2', { stopFootageMm: 60_000, stopSide: 'after' });
    // What was counted as 40 m was 40.4 m: the stop moves, and the sample that names its record goes with it.
    expect(await bench.amend(`counter-periods/${periodId}`, 1, { scaleMmPerCount: '1.0100' })).toMatchObject({ status: 200 });
    const { body } = await bench.get(`casing-strings/${other}/destructive-tests`);
    expect(body['stops']).toMatchObject([
      { atMm: 5_000, isOnPipe: false, recordedBy: [{}] }, { atMm: 40_400, isOnPipe: true, recordedBy: [{ id: countedId, version: 2 }] }, { atMm: 60_000, plusMinusMm: null, isOnPipe: true, recordedBy: [] },
    ]);
    const found = ofTest(body, 'flattening');
    expect((found['samples'] as Fields[]).map(({ cut: words }) => words)).toEqual([
      'before the stop at 40000 mm, recorded at 40400 mm', 'after the stop at 60000 mm, which no seam event records',
    ]);
    expect(standing(found)).toEqual([['N1', 'passed', [[12_000, 40_400]]], ['N2', 'passed', [[60_000, 90_000]]]]);
    expect(found['unsampledEnds']).toMatchObject([
      { atMm: 10_000, isCutOut: true, words: expect.stringContaining('that pipe was cut out') }, { atMm: 40_400, pipeLies: 'after', isCutOut: false }, { atMm: 60_000, pipeLies: 'before' }, { atMm: 90_000 },
    ]);
  });
});

describe('a failure', () => {
  const failed = async (of: string, observedAt: string, changes: Fields = {}): Promise<string> =>
    bench.made('destructive-tests', result(of, { outcome: 'fail', stated: 'Crack of 9 mm', observedAt, ...changes }));
  const state = async (kind: string, of: string): Promise<Fields> =>
    (ofTest(await coverage(), kind)['samples'] as ({ sample: { label: string } } & Fields)[]).find(({ sample }) => sample.label === of) ?? {};

  test('needs the retests of the plan of its day: two by revision 1, one by revision 2', async () => {
    await sampled('R1', { coilId: coils.a, coilEnd: 'tail' });
    await sampled('R2', { coilId: coils.b, coilEnd: 'head' }, '2026-03-10T08:00:00Z');
    // Each retest is made on another piece of the same end.
    await sampled('R1B', { coilId: coils.a, coilEnd: 'tail' });
    await sampled('R2B', { coilId: coils.b, coilEnd: 'head' }, '2026-03-10T08:00:00Z');
    const first = await failed('R1', '2026-03-09T22:59:59Z');
    await bench.made('destructive-tests', result('R1B', { observedAt: '2026-03-11T10:00:00Z', followsTestId: first }));
    expect(await state('flattening', 'R1')).toMatchObject({ state: 'open', because: expect.stringContaining('1 more to pass'), retestRule: expect.stringContaining('SP-1 revision 1: STS-12 rev 3, clause 7.4') });
    const second = await failed('R2', '2026-03-10T10:00:00Z');
    await bench.made('destructive-tests', result('R2B', { observedAt: '2026-03-10T11:00:00Z', followsTestId: second }));
    expect(await state('flattening', 'R2')).toMatchObject({ state: 'failed, retests passed', retestRule: expect.stringContaining('SP-1 revision 2: STS-12 rev 4, clause 7.4') });
  });

  test('is final where the plan allows no retest; where it says nothing of the test, common practice holds and is named', async () => {
    const flared = { kind: 'flaring', method: 'ISO 8493' };
    for (const number of ['R3', 'R3B']) await sampled(number, { footageMm: 60_000 });
    const first = await failed('R3', '2026-03-02T12:00:00Z', flared);
    for (const hour of ['13', '14']) await bench.made('destructive-tests', result('R3B', { ...flared, observedAt: `2026-03-02T${hour}:00:00Z`, followsTestId: first }));
    expect(await state('flaring', 'R3')).toMatchObject({ state: 'failed', retestRule: expect.stringContaining('no retest is allowed: a failure is final; source: SP-1 revision 1') });
    await failed('R3', '2026-03-02T15:00:00Z', { kind: 'macro', method: 'ISO 17639' });
    expect(await state('macro', 'R3')).toMatchObject({ state: 'open', retestRule: expect.stringContaining('SP-1 revision 1 says nothing of macro') });
  });
});

describe('a plan', () => {
  test('is frozen once a string was assigned it, and is not withdrawn while one is; until then it can be amended', async () => {
    const frozen = await bench.amend(`sampling-plans/${plans.first}`, 1, { title: 'Other' });
    expect(frozen).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:frozen', detail: expect.stringContaining('revision 1 of sampling plan SP-1 is in use') } });
    expect(await bench.withdraw(`sampling-plans/${plans.first}`, 1)).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:held' } });
    expect(await bench.amend(`sampling-plans/${plans.spare}`, 1, { effectiveFrom: '2026-04-01' })).toMatchObject({ status: 200, body: { version: 2, effectiveFrom: '2026-04-01' } });
  });

  test('amended and assigned at once: one of the two is refused, each time', async () => {
    for (let revision = 10; revision < 14; revision += 1) {
      const samplingPlanId = await bench.made('sampling-plans', plan({ revision }));
      const other = await bench.string();
      const [amended, assigned] = await Promise.all([
        bench.amend(`sampling-plans/${samplingPlanId}`, 1, { effectiveFrom: '2026-06-01' }),
        bench.enter('sampling-plan-assignments', { stringId: other, samplingPlanId, fromDay: '2026-05-31' }),
      ]);
      expect([[200, 422], [409, 201]]).toContainEqual([amended.status, assigned.status]);
    }
  });

  test('no longer assigned leaves the one before in force; as known before, it was in force', async () => {
    const { recordedAt } = (await bench.get(`sampling-plan-assignments/${assignments.second}`)).body;
    expect(await bench.withdraw(`sampling-plan-assignments/${assignments.second}`, 1)).toMatchObject({ status: 200 });
    expect(inForce(await coverage())).toEqual([['SP-1 revision 1', '2026-03-01', 180_000]]);
    expect(inForce(await coverage(asKnown(String(recordedAt))))).toEqual([['SP-1 revision 1', '2026-03-01', 100_000], ['SP-1 revision 2', '2026-03-10', 80_000]]);
    // A plan from a day on which no pipe was made any more is shown, and judges nothing.
    await bench.made('sampling-plan-assignments', { stringId, samplingPlanId: plans.second, fromDay: '2026-03-11' });
    const body = await coverage();
    expect(inForce(body)).toEqual([['SP-1 revision 1', '2026-03-01', 180_000], ['SP-1 revision 2', '2026-03-11', 0]]);
    expect(ofTest(body, 'flattening')['basis']).toHaveLength(1);
  });

  test('that cannot be, or does not go together, is refused field by field, and nothing is written', async () => {
    const [planned = {}] = plan()['tests'] as Fields[];
    const withTest = (changes: Fields): Fields => plan({ revision: 90, tests: [{ ...planned, ...changes }] });
    const assignment = (changes: Fields): Fields => ({ stringId, samplingPlanId: plans.first, fromDay: '2026-04-01', ...changes });
    const refused: readonly [string, number, string[], Fields][] = [
      ['sampling-plans', 409, ['revision'], plan()],
      ['sampling-plans', 409, ['revision'], plan({ number: 'sp-1' })],
      ['sampling-plans', 400, ['revision', 'tests'], plan({ revision: 0, tests: [] })],
      ['sampling-plans', 400, ['effectiveFrom'], plan({ effectiveFrom: 'soon' })],
      ['sampling-plans', 400, ['tests[0].test', 'tests[0].source'], withTest({ test: 'bend', source: null })],
      ['sampling-plans', 400, ['tests[0].rules[0].rule', 'tests[0].rules[0].everyMm'], withTest({ rules: [{ rule: 'now and then', everyMm: 0.5 }] })],
      ['sampling-plans', 422, ['tests[1].test'], plan({ revision: 90, tests: [planned, planned] })],
      ['sampling-plans', 422, ['tests[0].rules[1].rule'], withTest({ rules: [{ rule: 'coil-ends' }, { rule: 'coil-ends' }] })],
      ['sampling-plans', 422, ['tests[0].rules[0].everyMm'], withTest({ rules: [{ rule: 'every-length' }] })],
      ['sampling-plans', 422, ['tests[0].rules[0].everyMm'], withTest({ rules: [{ rule: 'coil-ends', everyMm: 1000 }] })],
      ['sampling-plans', 422, ['tests[0].passingRetestsPerFailure'], withTest({ retestAllowed: false })],
      ['sampling-plans', 422, ['tests[0].passingRetestsPerFailure'], withTest({ passingRetestsPerFailure: null })],
      ['sampling-plans', 400, ['tests[0].passingRetestsPerFailure'], withTest({ passingRetestsPerFailure: 0 })],
      ['sampling-plan-assignments', 409, ['fromDay'], assignment({ fromDay: '2026-03-01' })],
      ['sampling-plan-assignments', 422, ['fromDay'], assignment({ fromDay: '2025-05-31' })],
      ['sampling-plan-assignments', 422, ['samplingPlanId'], assignment({ samplingPlanId: uuidv7() })],
      ['sampling-plan-assignments', 422, ['stringId'], assignment({ stringId: uuidv7() })],
      ['sampling-plan-assignments', 400, ['samplingPlanId', 'fromDay'], assignment({ samplingPlanId: null, fromDay: '2026-02-30' })],
    ];
    const state = await databaseState(api.owner);
    for (const [path, status, fields, body] of refused) {
      const answer = await bench.enter(path, body);
      expect({ body, status: answer.status, fields: (answer.body['errors'] as Fields[]).map(({ field }) => field) }).toEqual({ body, status, fields });
    }
    expect(await databaseState(api.owner)).toEqual(state);
  });
});
