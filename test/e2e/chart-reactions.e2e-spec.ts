import { afterAll, beforeAll, beforeEach, expect, test } from '@jest/globals';
import { ChartReactionsService } from '../../apps/api/src/chart-reactions/chart-reactions.service.js';
import { startTestApi, type SignedIn, type TestApi } from '../setup/api.js';
import { signedLimits, withdrawnLimits } from '../setup/signed-limits.js';
import { each, StringBench, type Fields } from '../setup/string-bench.js';

let api: TestApi;
let bench: StringBench;
let inspector: SignedIn;
let stringId: string;
let chartId: string;
let limitsId: string;
let codes = 0;

beforeAll(async () => {
  api = await startTestApi();
  bench = await StringBench.on(api);
  inspector = await api.signIn('qc-inspector');
}, 60_000);
afterAll(() => api.close());
beforeEach(async () => {
  stringId = await bench.string();
  chartId = await chart();
  limitsId = await signedLimits(api, bench.who, stringId, chartId);
});

const chart = (): Promise<string> => bench.made('control-charts', {
  stringId, code: `BH-${codes += 1}`, title: 'Bead height', characteristic: { of: 'inspected', name: 'bead height' }, unit: 'mm', subgroup: { size: 1, withinMm: 0, everyMm: 1_000 }, chart: 'ewma', rules: [],
  lambda: '0.2', width: '2.7', leaveOut: { aroundSplicesMm: 0, aroundStopsMm: 0 }, specification: { upper: '1.50', source: 'PS-4 rev 1, 6.2' },
  reaction: { repeat: 'Read again with the other gauge', causes: ['Scarfing tool worn', 'Strip edge'], adjust: 'Set the tool after two signals', decidedBy: 'Shift lead' },
});

const signalAt = (fromMm: number): Fields => ({ panel: 'weighted averages', rule: 'beyond-limit', fromMm, toMm: fromMm + 10 });
const reaction = (changes: Fields = {}): Fields => ({
  stringId, chartId, limitsId, answers: [signalAt(50_000), signalAt(51_000)], reading: 'real', repeatedValue: '1.42', watchFromMm: 49_010, watchToMm: 51_010,
  causesLookedAt: ['Scarfing tool worn'], cause: 'Scarfing tool worn', action: 'adjusted', did: 'Tool changed', ...changes,
});
const nonconformance = (): Promise<string> => bench.made('nonconformances', {
  stringId, title: 'Bead too high', severity: 'minor', origin: 'line', extents: [{ from: { footageMm: 49_010 }, to: { footageMm: 51_010 } }], extentBasis: 'bracketed', stage: 'open',
  requirement: { document: 'PS-4', revision: '1', clause: '6.2', limit: 'at most 1.50 mm' }, found: { text: 'High', method: 'gauge', instrument: 'BG-2', at: '2026-03-02T08:15:00Z', by: bench.who.personId },
});
const marks = (body: Fields): [unknown, unknown][] => (body['marks'] as Fields[]).map(({ kind, field }) => [kind, field]);

test('an inspector answers two signals at once: what was found, marked and done stands, and is told of the chart', async () => {
  const body = { ...reaction(), id: '0197a2c4-5b00-7d31-9c11-3a5d0e7f2b01', observedAt: '2026-03-02T09:00:00Z' };
  const answer = await inspector.send('POST', '/api/chart-reactions', { body });
  expect(answer).toMatchObject({ status: 201, body: { ...reaction(), answers: [{ ...signalAt(50_000), label: null }, { ...signalAt(51_000), label: null }], marks: [], repeatedWithInstrumentId: null, doneBy: inspector.personId } });
  const later = await bench.made('chart-reactions', reaction({ observedAt: '2026-03-02T10:00:00Z', reading: 'not-repeated', repeatedValue: null, notRepeatedBecause: 'Pipe past the hang-off', action: 'none-needed' }));
  const reactions = api.app.get(ChartReactionsService);
  expect((await reactions.ofChart(chartId, null)).map(({ id, answers }) => [id, answers.length])).toEqual([[body.id, 2], [later, 2]]);
  expect(await reactions.ofChart(chartId, '2026-01-01T00:00:00.000000Z')).toEqual([]);
  expect(each(await bench.get(`chart-reactions?chartId=${chartId}`), 'items', 'id').sort()).toEqual([body.id, later].sort());
  expect(await bench.withdraw(`chart-reactions/${later}`, 1)).toMatchObject({ status: 200 });
  expect((await reactions.ofString(stringId, null)).map(({ id }) => id)).toEqual([body.id]);
});

test('a repeated value out of specification is taken and marked, and leads to a nonconformance that it holds', async () => {
  const nonconformanceId = await nonconformance();
  const answer = await bench.enter('chart-reactions', reaction({ repeatedValue: '1.62', action: 'nonconformance', nonconformanceId }));
  expect([answer.status, marks(answer.body)]).toEqual([201, [['out-of-specification', 'repeatedValue']]]);
  expect((await bench.withdraw(`nonconformances/${nonconformanceId}`, 1)).body['type']).toBe('urn:everymetre:problem:held');
  expect((await bench.withdraw(`control-charts/${chartId}`, 1)).body['type']).toBe('urn:everymetre:problem:held');
});

test('what was done stays when the limits are withdrawn, and can still be entered, marked', async () => {
  const before = await bench.made('chart-reactions', reaction());
  await withdrawnLimits(api, bench.who, limitsId);
  expect(await bench.get(`chart-reactions/${before}`)).toMatchObject({ status: 200, body: { limitsId, state: 'active' } });
  const late = await bench.enter('chart-reactions', reaction());
  expect([late.status, marks(late.body)]).toEqual([201, [['noted', 'limitsId']]]);
});

test('limits of another chart, of its string or another, answer nothing', async () => {
  const other = await signedLimits(api, bench.who, stringId, await chart());
  for (const limits of [other, chartId]) {
    const answer = await bench.enter('chart-reactions', reaction({ limitsId: limits }));
    expect([answer.status, each(answer, 'errors', 'field')]).toEqual([422, ['limitsId']]);
  }
});

test('a gauge that is found out recalls what was repeated with it, where its signals are', async () => {
  const instrumentId = await bench.made('instruments', { number: 'BG-7', kind: 'gauge', name: 'Bead gauge', measures: ['bead-height'], unit: 'mm' });
  const placed = await bench.made('chart-reactions', reaction({ repeatedWithInstrumentId: instrumentId }));
  await bench.made('chart-reactions', reaction({ repeatedWithInstrumentId: instrumentId, answers: [{ panel: 'weighted averages', rule: 'beyond-limit', label: 'LM-03' }] }));
  const { body } = await bench.get(`recall?instrumentId=${instrumentId}`);
  const [string] = body['strings'] as { concerned: { record: { id: string; kind: string }; footage: Fields }[] }[];
  expect(string?.concerned.map(({ record, footage }) => [record.kind, record.id, footage])).toEqual([['chart-reaction', placed, { fromMm: 50_000, toMm: 51_010 }]]);
});
