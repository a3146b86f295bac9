import { beforeEach, describe, expect, test } from '@jest/globals';
import { at, fieldsRefused, lineFactory, type Fields } from './line.factory.js';

const { api, engineer, stringId, post, made, amend, withdraw, get, setup, period } = lineFactory();

const channel = (changes: Fields = {}): Fields => ({
  stringId: stringId(), observedAt: at('05:40'), name: 'ET-seam-1', measures: 'eddy-current-amplitude', unit: '%', method: 'ET', station: 'wall gauge', zone: 'seam',
  sampling: { per: 'length', everyMm: '1.0' }, threshold: { sense: 'above', level: '60' }, required: true, repeats: 'best', ...changes,
});
const marksOf = (body: Fields): unknown[] => (body['marks'] as Fields[]).map(({ kind, field }) => [kind, field]);

let standardId: string;
let channelId: string;
let otherId: string;
const run = (changes: Fields = {}): Fields => ({ stringId: stringId(), observedAt: at('06:30'), channelIds: [channelId, otherId], settings: [], standardId, ...changes });
const check = (runId: string, changes: Fields = {}): Fields => ({
  stringId: stringId(), observedAt: at('06:25'), from: { footageMm: 0 }, runId, standardId, mode: 'dynamic', occasion: 'start',
  results: [{ channelId, reflector: 'N10 outside', amplitude: '74.5', threshold: '60', sense: 'above' }], ...changes,
});

beforeEach(async () => {
  await made('line-setups', setup());
  standardId = await made('instruments', { observedAt: at('05:00'), number: `RS-${stringId().slice(-8)}`, kind: 'reference-standard', name: 'Notched tube', measures: ['notch'], unit: 'mm' });
  channelId = await made('channels', channel());
  otherId = await made('channels', channel({ name: 'ET-seam-2' }));
});

describe('a channel', () => {
  test('has what applies unless somebody says otherwise, and a name that no other one has', async () => {
    expect(await get('channels', channelId)).toMatchObject({
      marks: [], checkEveryMinutes: 240, checkGraceMinutes: 0, missingValues: [], saturatesAt: { high: null, low: null }, plausible: { from: null, to: null }, speedWindow: null, sampling: { per: 'length', everyMm: '1.0' },
    });
    expect(await post('channels', channel({ name: 'et-SEAM-1' }))).toMatchObject({ status: 409, body: { errors: [{ field: 'name' }] } });
    expect(marksOf((await post('channels', channel({ name: 'ET-3', station: 'paint booth' }))).body)).toEqual([['noted', 'station']]);
  });

  test('is set up by a materials engineer; runs, marks and checks are entered on shift', async () => {
    const inspector = await api().signIn('qc-inspector');
    const send = (path: string, body: Fields) => inspector.send('POST', `/api/${path}`, { body, headers: { 'idempotency-key': `${path} ${stringId()}` } });
    expect((await send('channels', channel({ name: 'ET-9' }))).status).toBe(403);
    const entered = await send('inspection-runs', run());
    expect(entered).toMatchObject({ status: 201, body: { doneBy: inspector.personId, counter: 'main', endedAt: null } });
    expect((await send('reference-checks', check(String(entered.body['id'])))).status).toBe(201);
  });
});

describe('a run', () => {
  test('ends by an amendment, holds its channels, and is noted where another one goes on', async () => {
    const runId = await made('inspection-runs', run());
    expect(marksOf((await post('inspection-runs', run({ observedAt: at('07:30'), channelIds: [otherId] }))).body)).toEqual([['noted', 'observedAt']]);
    expect(fieldsRefused(await amend('inspection-runs', runId, 1, { endedAt: at('06:30') }))).toEqual(['endedAt']);
    expect(await amend('inspection-runs', runId, 1, { endedAt: at('07:30'), endReason: 'Change of operator' })).toMatchObject({ status: 200, body: { endedAt: '2026-03-02T07:30:00.000000Z' } });
    expect(marksOf((await post('inspection-runs', run({ observedAt: at('07:30'), channelIds: [channelId], standardId: null }))).body)).toEqual([]);
    expect(await withdraw('channels', channelId, 1)).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:held' } });
    await made('signal-marks', { stringId: stringId(), observedAt: at('07:00'), from: { footageMm: 100 }, runId, channelIds: [channelId], effect: 'excluded', cause: 'splice' });
    expect(await amend('inspection-runs', runId, 2, { channelIds: [otherId] })).toMatchObject({ status: 422, body: { errors: [{ field: 'channelIds' }] } });
    expect(await withdraw('inspection-runs', runId, 2)).toMatchObject({ status: 409 });
  });
});

describe('marks and checks', () => {
  test('lie where a counter and a station say, and go with the counter', async () => {
    const runId = await made('inspection-runs', run());
    await made('counter-periods', period());
    const periodId = String(((await engineer().send<Fields & { items: Fields[] }>('GET', `/api/counter-periods?stringId=${stringId()}`)).body.items[0] ?? {})['id']);
    const place = (counterReading: string): Fields => ({ counterReading, station: 'wall gauge' });
    const markId = await made('signal-marks', {
      stringId: stringId(), observedAt: at('08:00'), from: place('30000'), to: place('31000'), runId, channelIds: [channelId], effect: 'not-valid', cause: 'probe-lifted',
    });
    const checkId = await made('reference-checks', check(runId, { observedAt: at('08:00'), from: place('31000'), occasion: 'interval' }));
    expect(await get('signal-marks', markId)).toMatchObject({ footageFromMm: 23_800, footageToMm: 24_800 });
    expect(await get('reference-checks', checkId)).toMatchObject({ footageFromMm: 24_800, footageToMm: 24_801 });
    await amend('counter-periods', periodId, 1, { scaleMmPerCount: '1.0100' });
    expect(await get('signal-marks', markId)).toMatchObject({ version: 2, footageFromMm: 24_100, footageToMm: 25_110 });
    expect(await get('reference-checks', checkId)).toMatchObject({ version: 2, footageFromMm: 25_110 });
  });

  test('a check comes to its outcome channel by channel; a failed one is taken and marked', async () => {
    const runId = await made('inspection-runs', run());
    const results = [['N10 outside', channelId, '74.5'], ['N10 inside', channelId, '59.9'], ['N10 outside', otherId, '≥ 100']].map(([reflector, id, amplitude]) => ({
      channelId: id, reflector, amplitude, threshold: '60', sense: 'above',
    }));
    const entered = await post('reference-checks', check(runId, { results }));
    expect(entered).toMatchObject({ status: 201, body: { outcomes: [{ channelId, outcome: 'failed' }, { channelId: otherId, outcome: 'passed' }] } });
    expect(marksOf(entered.body)).toEqual([['out-of-specification', 'results[1].amplitude']]);
    const id = String(entered.body['id']);
    expect(await amend('reference-checks', id, 1, { voidReason: 'Standard was dirty' })).toMatchObject({
      status: 200, body: { outcomes: [{ outcome: 'void' }, { outcome: 'void' }], marks: [{ kind: 'noted' }] },
    });
    expect((await get('reference-checks', `${id}/history`))['versions']).toMatchObject([{ version: 1 }, { changes: expect.arrayContaining([expect.objectContaining({ field: 'voidReason' })]) }]);
  });

  test('a check is recalled from the standard that it was made on', async () => {
    const checkId = await made('reference-checks', check(await made('inspection-runs', run())));
    const answer = await engineer().send('GET', `/api/recall?instrumentId=${standardId}`);
    expect(answer.status).toBe(200);
    expect(JSON.stringify(answer.body)).toContain(checkId);
  });
});
