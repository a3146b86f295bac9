import { beforeEach, describe, expect, test } from '@jest/globals';
import { at, fieldsRefused, lineFactory, type Fields } from './line.factory.js';
import { channel, inspectionRun, openUpload, range, sendPart, upload } from './signals.factory.js';
import { splicesFrom } from './splices.factory.js';

const { engineer, stringId, post, made, amend, withdraw, get, setup, period, reading, cutOut } = lineFactory();
/** From the weld point to the wall gauge. */
const PATH_MM = 6_200;
let wall: string;
let runId: string;
let uploadId: string;
let splices: readonly string[];
let parts = 0;

beforeEach(async () => {
  await made('line-setups', setup());
  await made('counter-periods', period());
  for (const [clock, counted] of [['06:10', '0'], ['07:00', '40000']] as const) await made('counter-readings', reading(clock, counted));
  wall = await made('channels', channel(stringId(), 'wall', { station: 'wall gauge', spliceMarginMm: 300 }));
  runId = await made('inspection-runs', inspectionRun(stringId(), [wall]));
  uploadId = await openUpload(post, upload(runId, [{ column: 'wall', channelId: wall }]));
  splices = await splicesFrom(engineer(), stringId(), 10_000, 20_000, 33_900);
  parts = 0;
});

/** Samples of pipe from one footage up to another, read at the gauge. */
async function read(fromMm: number, toMm: number, clock = '06:10'): Promise<void> {
  const counter = range(fromMm + PATH_MM, toMm + PATH_MM);
  const answer = await sendPart(engineer().send, uploadId, (parts += 1), { counter, values: { wall: counter.map(() => 5) }, firstAt: at(clock), lastAt: at(clock).replace(':00Z', ':59Z') });
  expect(answer.status).toBe(200);
}

const marked = (fromMm: number, toMm: number, effect: 'not-valid' | 'excluded'): Promise<string> => made('signal-marks', {
  stringId: stringId(), observedAt: at('07:10'), from: { footageMm: fromMm }, to: { footageMm: toMm }, runId, channelIds: [wall], effect, cause: 'review', note: null,
});

const examined = (clock: string, fromMm: number, toMm: number, changes: Fields = {}): Promise<string> => made('examinations', {
  stringId: stringId(), observedAt: at(clock), from: { footageMm: fromMm }, to: { footageMm: toMm }, method: 'UT', technique: 'UT-04 rev 2', reflector: 'notch-outside', reflectorSizeMm: '0.50',
  outcome: 'accepted', standsInFor: [], photoSha256s: [], ...changes,
});

const spans = (answer: unknown): unknown[] => ((answer as Fields)['intervals'] as { fromMm: number; toMm: number }[]).map(({ fromMm, toMm }) => [fromMm, toMm]);

async function pipe(query = ''): Promise<Fields & { channels: Fields[] }> {
  return (await get('casing-strings', `${stringId()}/inspection-coverage`, query)) as Fields & { channels: Fields[] };
}

/** Each joint as its channel sees it. */
async function joints(): Promise<Fields[]> {
  const { joints: all } = (await get('casing-strings', `${stringId()}/splice-coverage`)) as { joints: { kind: string; record: Fields; channels: Fields[] }[] };
  return all.map(({ kind, record, channels: [own] }) => ({ kind, record: record['id'], state: own?.['state'], missing: spans(own?.['missing']), byHand: own?.['byHand'], notAccepted: own?.['notAccepted'] }));
}

describe('coverage by a channel', () => {
  test('is told to the millimetre: what had to be inspected, what was, every gap, and what has not come to the gauge', async () => {
    await read(0, 19_900);
    await read(20_050, 33_800);
    await marked(5_000, 5_010, 'not-valid');
    await marked(6_000, 6_500, 'excluded');
    const { madeMm, channels: [one] } = await pipe();
    expect([madeMm, one?.['passedMm']]).toEqual([40_000, 33_800]);
    expect(spans(one?.['required'])).toEqual([[0, 33_800]]);
    expect(spans(one?.['gaps'])).toEqual([[5_000, 5_010], [19_900, 20_050]]);
    expect(spans(one?.['notYet'])).toEqual([[33_800, 40_000]]);
    expect(one?.['words']).toBe('33800 mm had to be inspected, 33640 mm were, in 2 gaps 160 mm were not; 6200 mm have not come to it yet.');
    await made('cut-outs', cutOut('07:30', { footageMm: 19_000 }, { footageMm: 19_950 }));
    const { channels: [cut] } = await pipe();
    expect([spans(cut?.['required']), spans(cut?.['gaps'])]).toEqual([[[0, 19_000], [19_950, 33_800]], [[5_000, 5_010], [19_950, 20_050]]]);
  });

  test('never looks clean for want of a set-up: all pipe made counts as past a station that nobody placed', async () => {
    await made('channels', channel(stringId(), 'eddy', { station: 'eddy head' }));
    const { channels } = await pipe();
    const eddy = channels.find(({ station }) => station === 'eddy head');
    expect(eddy).toMatchObject({ words: expect.stringContaining('no line set-up says where station eddy head is') });
    expect([eddy?.['passedMm'] ?? null, spans(eddy?.['gaps'])]).toEqual([null, [[0, 40_000]]]);
  });

  test('counts pipe that slipped past a station that was moved upstream as pipe that had to be inspected', async () => {
    await read(0, 33_800);
    await made('line-setups', setup({ observedAt: at('07:00'), stations: [{ name: 'wall gauge', pathMinMm: 1_000, pathMaxMm: 1_000, uMm: '3' }, { name: 'hang-off', role: 'hang-off', pathMinMm: 18_000, pathMaxMm: 18_000, uMm: '10' }] }));
    const { channels: [one] } = await pipe();
    expect([one?.['passedMm'], spans(one?.['gaps'])]).toEqual([39_000, [[33_800, 39_000]]]);
  });

  test('is asked of required channels, or of one; a string without any says so', async () => {
    expect(await amend('channels', wall, 1, { required: false })).toMatchObject({ status: 200 });
    expect(await pipe()).toMatchObject({ channels: [], cautions: expect.arrayContaining([expect.stringContaining('No channel of the string is required')]) });
    expect((await pipe(`?channelId=${wall}`)).channels).toHaveLength(1);
    const refused = await engineer().send('GET', `/api/casing-strings/${stringId()}/splice-coverage?channelId=one&of=all`);
    expect([refused.status, fieldsRefused(refused)]).toEqual([400, ['of', 'channelId']]);
    expect((await engineer().send('GET', `/api/casing-strings/${stringId()}/splice-coverage?channelId=${runId}`)).status).toBe(404);
  });
});

describe('splices and re-joins', () => {
  test('are covered by the channel, by hand, or not; the footage that is missing is named', async () => {
    await read(0, 19_900);
    await read(20_050, 33_800);
    const state = async (nth: number): Promise<unknown> => (await joints())[nth];
    expect(await joints()).toMatchObject([
      { kind: 'splice', record: splices[0], state: 'covered', missing: [] }, { record: splices[1], state: 'missing', missing: [[19_900, 20_050]] }, { record: splices[2], state: 'not-yet', missing: [] },
    ]);
    const early = await examined('06:00', 19_000, 21_000);
    await examined('08:00', 19_000, 21_000, { method: 'MT', technique: 'MT-01', reflector: null, reflectorSizeMm: null });
    const held = await examined('08:05', 19_000, 21_000, { outcome: 'held' });
    expect(await state(1)).toMatchObject({ state: 'missing', byHand: [], notAccepted: [{ id: held }] });
    const short = await examined('08:10', 19_000, 20_000);
    expect(await state(1)).toMatchObject({ state: 'missing', missing: [[20_000, 20_050]], byHand: [{ id: short }] });
    const rest = await examined('08:20', 19_999, 20_400);
    expect(await state(1)).toMatchObject({ state: 'covered-by-hand', missing: [], byHand: [{ id: short }, { id: rest }] });
    expect(JSON.stringify(await state(1))).not.toContain(early);
    expect(await withdraw('examinations', rest, 1)).toMatchObject({ status: 200 });
    expect(await state(1)).toMatchObject({ state: 'missing', missing: [[20_000, 20_050]] });
  });

  test('a re-join is covered by what was read after it alone, with its margin on both sides of what was cut out', async () => {
    await read(0, 33_800);
    const cut = await made('cut-outs', cutOut('07:00', { footageMm: 25_000 }, { footageMm: 25_600 }));
    const rejoin = async (): Promise<unknown> => (await joints()).find(({ record }) => record === cut);
    expect(await rejoin()).toMatchObject({ kind: 're-join', state: 'missing', missing: [[24_700, 25_000], [25_600, 25_900]] });
    const weld = await examined('07:20', 25_000, 25_001);
    expect(await rejoin()).toMatchObject({ missing: [[24_700, 24_999], [25_601, 25_900]], byHand: [{ id: weld }] });
    await examined('07:30', 24_000, 26_000);
    expect(await rejoin()).toMatchObject({ state: 'covered-by-hand', missing: [] });
  });
});
