import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { startTestApi, type Answer, type SignedIn, type TestApi } from '../setup/api.js';
import { databaseState } from '../setup/database-state.js';
import { StringBench, type Fields } from '../setup/string-bench.js';
import { buildString, entered } from '../setup/string-builder.js';

const at = '2026-01-05T08:00:00Z';
let api: TestApi;
let engineer: SignedIn;
let inspector: SignedIn;
let bench: StringBench;

beforeAll(async () => {
  api = await startTestApi();
  engineer = await api.signIn('materials-engineer');
  inspector = await api.signIn('qc-inspector');
  bench = await StringBench.on(api);
}, 30_000);
afterAll(() => api.close());

describe('a person', () => {
  let qualificationId: string;
  const qualification = (changes: Fields = {}): Fields => ({
    observedAt: at, personId: inspector.personId, number: 'WO-1', standard: 'ISO 14732', subject: 'welding', methods: ['521'],
    scope: [{ name: 'thickness', min: '3', max: '12', unit: 'mm' }, { name: 'product', values: ['strip', 'tube'] }],
    startsOn: '2025-06-02', expiresOn: '2028-06-01', confirmEveryMonths: 6, authorisationNeeded: false, examiner: 'Examining body', ...changes,
  });
  const qualified = async (query: string): Promise<Fields> =>
    (await inspector.send('GET', `/api/people/${inspector.personId}/qualified?method=521&variables=${encodeURIComponent('thickness=5.00 mm; product=strip')}&${query}`)).body;
  const stateAt = async (instant: string, more = ''): Promise<unknown> =>
    ((await qualified(`at=${encodeURIComponent(instant)}${more}`))['qualifications'] as Fields[])[0]?.['state'];
  const proof = (kind: string, onDay: string, changes: Fields = {}): Promise<string> => entered(engineer, 'qualification-proofs', {
    observedAt: at, personId: inspector.personId, qualificationId, proof: kind, onDay, givenBy: 'Welding coordinator', ...changes,
  });

  beforeAll(async () => {
    qualificationId = await entered(engineer, 'qualifications', qualification());
  });

  test('is qualified through the last confirmed day, by the local day of the work', async () => {
    expect(await stateAt('2025-12-02T23:59:59Z')).toBe('valid');
    expect(await stateAt('2025-12-03T00:00:00Z')).toBe('unconfirmed');
    // The same instant: still the second of December in the west, already the third in the east.
    expect(await stateAt('2025-12-02T18:30:00-05:00')).toBe('valid');
    expect(await stateAt('2025-12-02T23:30:00Z')).toBe('valid');
    expect(await stateAt('2025-12-03T00:30:00+01:00')).toBe('unconfirmed');
    expect(await stateAt('2025-06-01T23:59:59Z')).toBe('not-yet');
  });

  test('a confirmation that comes late revives it, and what was known before stays what it was', async () => {
    await proof('confirmation', '2026-01-10');
    expect(await stateAt('2026-01-09T12:00:00Z')).toBe('unconfirmed');
    expect(await stateAt('2026-01-10T00:00:00Z')).toBe('valid');
    const answer = await qualified('at=2026-02-01T00:00:00Z');
    expect(answer).toMatchObject({ found: 'covering', number: 'WO-1', qualifications: [{ lapses: [{ from: '2025-12-03', to: '2026-01-09' }], validUntil: '2026-07-10' }] });
    const { recordedAt: recorded } = (await engineer.send<{ recordedAt: string }>('GET', `/api/qualifications/${qualificationId}`)).body;
    expect(await stateAt('2026-01-10T00:00:00Z', `&asKnownAt=${encodeURIComponent(recorded)}`)).toBe('unconfirmed');
  });

  test('is not qualified for what the scope leaves out, nor for what the work does not state', async () => {
    const ask = async (query: string): Promise<unknown> => {
      const { body } = await inspector.send('GET', `/api/people/${inspector.personId}/qualified?at=2026-02-01T00:00:00Z&${query}`);
      return [body['found'], ((body['qualifications'] as Fields[])[0]?.['reasons'] as Fields[]).map(({ words }) => words)];
    };
    expect(await ask(`method=521&variables=${encodeURIComponent('thickness=0.5 in; product=strip')}`)).toEqual(['nearest', [expect.stringContaining('thickness')]]);
    expect(await ask('method=135')).toEqual(['nearest', [expect.stringContaining('method 135'), expect.stringContaining('thickness'), expect.stringContaining('product')]]);
  });

  test('after a withdrawal is not qualified from that day on, and there is one withdrawal', async () => {
    await proof('withdrawal', '2026-03-01', { reasonGiven: 'Three rejected splices.' });
    expect(await stateAt('2026-02-28T23:59:59Z')).toBe('valid');
    expect(await stateAt('2026-03-01T00:00:00Z')).toBe('withdrawn');
    const again = await engineer.send('POST', '/api/qualification-proofs', {
      body: { id: uuidv7(), observedAt: at, personId: inspector.personId, qualificationId, proof: 'withdrawal', onDay: '2026-03-02', givenBy: 'Coordinator', reasonGiven: 'Once more.' },
    });
    expect(again).toMatchObject({ status: 409, body: { errors: [{ field: 'qualificationId' }] } });
  });

  test('without any qualification is told so', async () => {
    const { body } = await inspector.send('GET', `/api/people/${engineer.personId}/qualified?at=2026-02-01T00:00:00Z`);
    expect(body).toMatchObject({ found: 'none', number: null, qualifications: [], because: expect.stringContaining('no qualification on record') });
  });

  test('what contradicts itself is refused field by field, and nothing is written', async () => {
    const before = await databaseState(api.owner);
    const send = (path: string, body: Fields): Promise<Answer> => engineer.send('POST', `/api/${path}`, { body: { id: uuidv7(), ...body } });
    const wrong = await send('qualifications', qualification({
      number: 'WO-2', expiresOn: '2025-06-01', methods: [],
      scope: [{ name: 'thickness', min: '12', max: '3', unit: 'mm' }, { name: 'level', values: ['2'] }, { name: 'gas', values: ['Ar'], min: '1' }, { name: 'width', min: '1', unit: 'MW' }],
    }));
    expect(wrong).toMatchObject({ status: 422 });
    expect((wrong.body['errors'] as Fields[]).map(({ field }) => field)).toEqual(['methods', 'expiresOn', 'scope[0].max', 'scope[1].name', 'scope[2].values', 'scope[3].unit']);
    expect(await send('qualifications', qualification())).toMatchObject({ status: 409, body: { errors: [{ field: 'number', value: 'WO-1' }] } });
    expect(await send('qualification-proofs', { observedAt: at, personId: engineer.personId, qualificationId, proof: 'confirmation', onDay: '2026-01-01', givenBy: 'X' }))
      .toMatchObject({ status: 422, body: { errors: [{ field: 'qualificationId', limit: 'a qualification of this person' }] } });
    expect(await send('qualification-proofs', { observedAt: at, personId: inspector.personId, proof: 'confirmation', onDay: '2026-01-01', untilDay: '2026-02-01', givenBy: 'X', reasonGiven: 'none' }))
      .toMatchObject({ status: 422, body: { errors: [{ field: 'qualificationId' }, { field: 'untilDay' }, { field: 'reasonGiven' }] } });
    expect(await inspector.send('GET', `/api/people/${inspector.personId}/qualified?level=9&variables=${encodeURIComponent('thickness; a=1; a=2')}`))
      .toMatchObject({ status: 400, body: { errors: [{ field: 'at' }, { field: 'level' }, { field: 'variables' }] } });
    expect(await inspector.send('GET', `/api/people/${inspector.personId}/qualified?at=${encodeURIComponent('2026-03-01T23:30:00+15:00')}`))
      .toMatchObject({ status: 400, body: { errors: [{ field: 'at', limit: 'an offset from UTC of at most 14 hours' }] } });
    expect(await databaseState(api.owner)).toEqual(before);
  });
});

describe('an instrument', () => {
  let gaugeId: string;
  let standardId: string;
  let stringId: string;
  let coilId: string;
  const points = (deviation: string): Fields[] => [{ point: '5.00 mm', deviation, min: '-0.010', max: '0.010', unit: 'mm', expandedU: '0.002' }];
  const calibrate = (observedAt: string, changes: Fields = {}): Promise<string> => entered(engineer, 'calibrations', {
    observedAt, instrumentId: gaugeId, referenceInstrumentId: standardId, certificateNumber: `CAL-${observedAt.slice(0, 10)}`, laboratory: 'Measuring room', decisionRule: 'simple-acceptance', ...changes,
  });
  const gauged = (observedAt: string, fromMm: number, value: string): Promise<string> => entered(inspector, 'inspections', {
    observedAt, stringId, from: { footageMm: fromMm }, to: { footageMm: fromMm + 100 }, kind: 'dimensional', characteristic: 'wall thickness', value, unit: 'mm',
    limitMin: '4.75', limitMax: '5.40', requirement: 'Plan 4.3', instrumentId: gaugeId, verdict: 'accepted',
  });
  const doubt = async (): Promise<{ spans: Fields[]; unclosed: Fields[] }> => (await inspector.send('GET', `/api/instruments/${gaugeId}/doubt`)).body as unknown as { spans: Fields[]; unclosed: Fields[] };
  const standing = async (instant: string): Promise<unknown> => (await inspector.send('GET', `/api/instruments/${gaugeId}/standing?at=${encodeURIComponent(instant)}`)).body['state'];

  beforeAll(async () => {
    stringId = await bench.string();
    const of = { observedAt: at, measures: ['thickness'], unit: 'mm' };
    gaugeId = await entered(engineer, 'instruments', { ...of, number: 'MI-07', kind: 'gauge', name: 'Micrometer', rangeMin: '0', rangeMax: '25', resolution: '0.001' });
    standardId = await entered(engineer, 'instruments', { ...of, number: 'RS-01', kind: 'reference-standard', name: 'Gauge block' });
    const heatId = await entered(engineer, 'heats', { observedAt: at, number: 'H-PI', grade: 'S420MC' });
    coilId = await entered(engineer, 'coils', { observedAt: at, number: 'PI-01', heatId, widthMm: '383.0', thicknessMm: '5.00', massKg: '3200' });
  });

  test('is good from its calibration on to the end of the day it is due', async () => {
    expect(await standing('2026-01-10T08:00:00Z')).toBe('not-calibrated');
    await calibrate('2026-01-15T08:00:00Z', { asFound: points('0.004'), dueOn: '2026-03-31' });
    expect(await standing('2026-01-15T08:00:00Z')).toBe('good');
    expect(await standing('2026-03-31T23:59:59Z')).toBe('good');
    expect(await standing('2026-04-01T00:30:00+01:00')).toBe('overdue');
    expect(await standing('2026-03-31T23:30:00Z')).toBe('good');
    expect(await doubt()).toMatchObject({ spans: [], unclosed: [] });
  });

  test('found out a week later puts what was measured since into doubt, with margins and what to enter', async () => {
    const before = await gauged('2026-01-15T07:00:00Z', 90_000, '4.76');
    const near = await gauged('2026-02-01T08:00:00Z', 100_000, '4.76');
    const far = await gauged('2026-02-02T08:00:00Z', 110_000, '5.05');
    const check = await entered(inspector, 'incoming-checks', {
      observedAt: '2026-02-03T08:00:00Z', coilId, characteristic: 'thickness', unit: 'mm', instrument: 'MI-07', instrumentId: gaugeId,
      readings: [{ printed: '5.01', along: 'head', across: 'centre' }],
    });
    const found = await calibrate('2026-02-10T08:00:00Z', { asFound: points('0.025'), asLeft: points('0.001'), dueOn: '2026-05-31' });
    const after = await gauged('2026-02-10T08:00:00Z', 120_000, '4.76');
    expect((await engineer.send('GET', `/api/calibrations/${found}`)).body['marks']).toMatchObject([{ kind: 'out-of-specification', field: 'asFound[0].deviation', value: '0.025' }]);
    const { spans } = await doubt();
    expect(spans).toMatchObject([{
      from: '2026-01-15T08:00:00.000000Z', to: '2026-02-10T08:00:00.000000Z', foundById: found,
      records: [{ record: { id: near }, margin: 'less-than-deviation' }, { record: { id: far }, margin: 'enough' }, { record: { id: check }, margin: 'not-comparable' }],
    }]);
    expect(JSON.stringify(spans)).not.toContain(before);
    expect(JSON.stringify(spans)).not.toContain(after);
    const proposals = spans[0]?.['proposals'] as Fields[];
    expect(proposals.map((one) => [one['stringId'], (one['extents'] as Fields[] | undefined)?.length, one['coilExtents']])).toEqual([
      [stringId, 2, undefined], [undefined, undefined, [{ coilId, stripFromMm: null, stripToMm: null }]],
    ]);
    for (const proposal of proposals) {
      expect(await engineer.send('POST', '/api/nonconformances', { body: { id: uuidv7(), ...proposal } })).toMatchObject({ status: 201, body: { origin: 'calibration', stage: 'draft' } });
    }
    expect(await standing('2026-02-01T08:00:00Z')).toBe('found-out');
    expect(await standing('2026-02-10T08:00:00Z')).toBe('good');
  });

  test('left out of tolerance is in doubt from then on; who writes its number may mean it', async () => {
    const otherId = await entered(engineer, 'instruments', { observedAt: at, measures: ['thickness'], unit: 'mm', number: 'MI-08', kind: 'gauge', name: 'Micrometer' });
    const own = (observedAt: string, changes: Fields): Promise<string> => calibrate(observedAt, { instrumentId: otherId, certificateNumber: `CAL-8-${observedAt}`, ...changes });
    await own('2026-01-15T08:00:00Z', { asLeft: points('0.001') });
    const left = await own('2026-02-10T08:00:00Z', { asFound: points('0.004'), asLeft: points('0.030') });
    const byNumber = await entered(inspector, 'incoming-checks', {
      observedAt: '2026-02-11T08:00:00Z', coilId, characteristic: 'thickness', unit: 'mm', instrument: 'mi-08', readings: [{ printed: '5.01', along: 'head', across: 'centre' }],
    });
    const inDoubt = async (): Promise<unknown> => ((await inspector.send('GET', `/api/instruments/${otherId}/doubt`)).body['spans'] as Fields[])
      .map(({ from, to, foundById, records }) => [from, to, foundById, (records as { record: { id: string }; said: string }[]).map(({ record, said }) => [record.id, said])]);
    const said = 'thickness 5.01 mm, its instrument named by number only; no limit to compare with';
    expect(await inDoubt()).toEqual([['2026-02-10T08:00:00.000000Z', null, left, [[byNumber, said]]]]);
    const { body } = await inspector.send('GET', `/api/recall?calibrationId=${left}`);
    expect(body['others']).toMatchObject([{ kind: 'incoming-check', links: [{ id: byNumber }] }]);
    await own('2026-02-12T08:00:00Z', { asFound: points('0.002') });
    expect(await inDoubt()).toEqual([['2026-02-10T08:00:00.000000Z', '2026-02-12T08:00:00.000000Z', left, [[byNumber, said]]]]);
  });

  test('found out after its counter was set anew proposes the pipe that was measured, not what such a reading means by then', async () => {
    const { stringId: counted } = await buildString(engineer, {
      lineMm: 18_000, ratio: 1, hangOff: { at: '2026-01-01T01:00:00Z', footageMm: 100, mdMm: 100 }, coils: [], cutOuts: [], ties: [], readings: [{ at: '2026-01-12T08:00:00Z', reading: '20000' }],
      periods: [{ startedAt: '2026-01-01T00:00:00Z', startReading: '0', scaleMmPerCount: '1', startFootageMm: 0 }, { startedAt: '2026-01-20T00:00:00Z', startReading: '0', scaleMmPerCount: '1', previousEndReading: '50000' }],
    });
    const instrumentId = await entered(engineer, 'instruments', { observedAt: at, measures: ['thickness'], unit: 'mm', number: 'MI-09', kind: 'gauge', name: 'Micrometer' });
    await entered(inspector, 'inspections', {
      observedAt: '2026-01-12T08:00:00Z', stringId: counted, from: { counterReading: '1000' }, to: { counterReading: '1100' }, kind: 'dimensional', characteristic: 'wall thickness', value: '5.00', unit: 'mm',
      instrumentId, verdict: 'accepted',
    });
    await calibrate('2026-01-25T08:00:00Z', { instrumentId, asFound: points('0.025') });
    const { spans } = (await inspector.send('GET', `/api/instruments/${instrumentId}/doubt`)).body as unknown as { spans: { proposals: Fields[] }[] };
    expect(spans[0]?.proposals[0]?.['extents']).toEqual([{ from: { footageMm: 1000 }, to: { footageMm: 1100 } }]);
  });

  test('recalled gives what was measured with it; its reference standard gives the same', async () => {
    const recalled = async (id: string): Promise<Fields> => (await inspector.send('GET', `/api/recall?instrumentId=${id}`)).body;
    const [byGauge, byStandard] = [await recalled(gaugeId), await recalled(standardId)];
    for (const answer of [byGauge, byStandard]) {
      const text = JSON.stringify(answer['strings']);
      for (const footageMm of [90_000, 100_000, 110_000, 120_000]) expect(text).toContain(String(footageMm));
      expect(JSON.stringify(answer)).toContain(coilId);
    }
  });

  test('is studied for repeatability and reproducibility; what is missing of a study is named', async () => {
    // Two parts, two appraisers, two trials; by hand: part means 5.022 and 4.98075, all trials within 0.004 of each other.
    const values = { P1: { A: ['5.021', '5.023'], B: ['5.020', '5.024'] }, P2: { A: ['4.981', '4.980'], B: ['4.979', '4.983'] } };
    const readings = Object.entries(values).flatMap(([part, by]) => Object.entries(by).flatMap(([appraiser, texts]) => texts.map((value, index) => ({ part, appraiser, trial: index + 1, value }))));
    const study = { observedAt: at, instrumentId: gaugeId, characteristic: 'wall thickness', unit: 'mm', tolerance: '0.65' };
    const id = await entered(engineer, 'gauge-studies', { ...study, readings });
    const { body } = await inspector.send('GET', `/api/gauge-studies/${id}/result`);
    expect(body).toMatchObject({ parts: ['P1', 'P2'], appraisers: ['A', 'B'], isPooled: true });
    const rows = new Map((body['table'] as Fields[]).map((row) => [row['source'], row]));
    // Sum of squares of parts: 8 readings, ± half the difference of the part means; of repeatability: half the squared difference of each pair.
    expect(rows.get('part')?.['sumOfSquares']).toBeCloseTo(8 * (0.04125 / 2) ** 2, 12);
    expect(rows.get('repeatability')?.['sumOfSquares']).toBeCloseTo((0.002 ** 2 + 0.004 ** 2 + 0.001 ** 2 + 0.004 ** 2) / 2, 12);
    const missing = await engineer.send('POST', '/api/gauge-studies', { body: { id: uuidv7(), ...study, readings: readings.slice(1) } });
    expect(missing).toMatchObject({ status: 422, body: { errors: [{ field: 'readings', limit: expect.stringContaining('part P1, appraiser A, trial 1') }] } });
  });

  test('a reading with an instrument that is not on record, and a calibration that contradicts itself, are refused', async () => {
    const before = await databaseState(api.owner);
    const send = (path: string, body: Fields): Promise<Answer> => engineer.send('POST', `/api/${path}`, { body: { id: uuidv7(), observedAt: at, ...body } });
    expect(await send('incoming-checks', { coilId, characteristic: 'thickness', unit: 'mm', instrument: 'MI-99', instrumentId: uuidv7(), readings: [{ printed: '5.01', along: 'head', across: 'centre' }] }))
      .toMatchObject({ status: 422, body: { errors: [{ field: 'instrumentId' }] } });
    const calibration = { instrumentId: gaugeId, certificateNumber: 'CAL-9', laboratory: 'Room', decisionRule: 'simple-acceptance' };
    expect(await send('calibrations', { ...calibration, referenceInstrumentId: gaugeId })).toMatchObject({ status: 422, body: { errors: [{ field: 'asFound' }, { field: 'referenceInstrumentId' }] } });
    expect(await send('calibrations', { ...calibration, asLeft: [{ point: '5 mm', deviation: '0,003', min: '0.01', max: '-0.01', unit: 'mm' }] }))
      .toMatchObject({ status: 400, body: { errors: [{ field: 'asLeft[0].deviation', value: '0,003' }] } });
    expect(await send('calibrations', { ...calibration, asLeft: [{ point: '5 mm', deviation: '0.003', min: '0.01', max: '-0.01', unit: 'mm' }] }))
      .toMatchObject({ status: 422, body: { errors: [{ field: 'asLeft[0].max', value: '-0.01' }] } });
    expect(await send('calibrations', { ...calibration, observedAt: '2026-01-15T08:00:00Z', asLeft: points('0.001') })).toMatchObject({ status: 409, body: { errors: [{ field: 'observedAt' }] } });
    expect(await send('instruments', { number: 'mi-07', kind: 'gauge', name: 'Other', measures: [], unit: 'mm' })).toMatchObject({ status: 409, body: { errors: [{ field: 'number' }] } });
    expect(await send('instruments', { number: 'X-1', kind: 'gauge', name: 'Other', measures: [], unit: 'mm', rangeMin: '5', rangeMax: '5' })).toMatchObject({ status: 422, body: { errors: [{ field: 'rangeMax' }] } });
    expect(await databaseState(api.owner)).toEqual(before);
  });
});
