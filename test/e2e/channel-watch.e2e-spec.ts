import { beforeEach, describe, expect, test } from '@jest/globals';
import { at, fieldsRefused, lineFactory, type Fields } from './line.factory.js';
import { splicesFrom } from './splices.factory.js';
import { arrowPart, channel, digestOfBytes, inspectionRun, openUpload, range, sendPart, upload } from './signals.factory.js';

const { engineer, stringId, post, made, amend, get, period, reading } = lineFactory();
let seam: string;
let runId: string;
let splices: readonly string[];

/** Noise that goes neither with footage nor with anything else: −1 to 1, by an integer hash. */
const noise = (at: number): number => {
  let hash = Math.imul(at ^ 0x9e3779b9, 0x85ebca6b);
  hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2ae35);
  return ((hash ^ (hash >>> 16)) >>> 0) / 2 ** 31 - 1;
};

const inside = (at: number, from: number, to: number): boolean => from <= at && at < to;

/** 40 m of a channel over the seam that was blind in each way once. */
function signal(at: number): number {
  if (inside(at, 5_000, 7_000)) return 50 + 0.01 * noise(at);
  if (inside(at, 9_800, 10_250)) return 50;
  if (inside(at, 13_000, 13_040) || inside(at, 13_500, 13_505) || inside(at, 19_950, 20_180)) return -999;
  if (inside(at, 15_000, 15_100)) return -400;
  if (inside(at, 17_000, 17_100)) return 100;
  if (inside(at, 24_064, 26_112)) return 50 + 2 * noise(at);
  return 50 + 10 * noise(at);
}

beforeEach(async () => {
  await made('counter-periods', period());
  seam = await made('channels', channel(stringId(), 'seam', {
    measures: 'ultrasonic-amplitude', unit: '%', zone: 'seam', noiseFloorLeast: '0.5', stuckAfter: 400, spliceMarginMm: 300, saturatesAt: { high: '100', low: null },
    plausible: { from: '0', to: '110' }, threshold: { sense: 'above', level: '80' },
  }));
  runId = await made('inspection-runs', inspectionRun(stringId(), [seam]));
  splices = await splicesFrom(engineer(), stringId(), 20_000, 30_000);
});

async function sent(from: number, to: number, partNo: number, id: string): Promise<void> {
  const counter = range(from, to);
  const minute = String(10 + partNo).padStart(2, '0');
  const answer = await sendPart(engineer().send, id, partNo, {
    counter, values: { seam: counter.map(signal) }, firstAt: `2026-03-02T06:${minute}:00Z`, lastAt: `2026-03-02T06:${minute}:59Z`,
  });
  expect(answer.status).toBe(200);
}

async function inParts(...edges: readonly number[]): Promise<void> {
  const id = await openUpload(post, upload(runId, [{ column: 'seam', channelId: seam }]));
  for (const [index, to] of edges.slice(1).entries()) await sent(edges[index] as number, to, index + 1, id);
}

const marked = (cause: string, fromMm: number, toMm: number): Promise<string> => made('signal-marks', {
  stringId: stringId(), observedAt: at('07:00'), from: { footageMm: fromMm }, to: { footageMm: toMm }, runId, channelIds: [seam], effect: 'not-valid', cause, note: null,
});

interface Watch {
  readonly rules: readonly { readonly rule: string; readonly applied: boolean; readonly words: string }[];
  readonly findings: readonly { readonly rule: string; readonly interval: { readonly fromMm: number; readonly toMm: number }; readonly figure: number | null; readonly limit: number | null; readonly records: Fields[]; readonly run: Fields; readonly from: string; readonly until: string }[];
  readonly cost: { readonly samples: number; readonly blocks: number; readonly blocksRead: number };
  readonly cautions: readonly string[];
}

const watch = async (query = ''): Promise<Watch> => (await get('casing-strings', `${stringId()}/channel-watch`, `?channelId=${seam}${query}`)) as unknown as Watch;
const named = ({ findings }: Watch, ...rules: readonly string[]): unknown[] =>
  findings.filter(({ rule }) => rules.length === 0 || rules.includes(rule)).map(({ rule, interval: { fromMm, toMm }, figure }) => [rule, fromMm, toMm, figure]);

describe('the watch over a channel', () => {
  test('names each way in which it was blind, where, when and by how much', async () => {
    await inParts(0, 10_000, 20_000, 30_000, 40_000);
    await marked('probe-lifted', 29_900, 30_050);
    await marked('off-weld-line', 33_000, 33_500);
    const answer = await watch();
    expect(named(answer, 'identical-values', 'lost-coupling', 'probe-lifted-over-splice')).toEqual([
      ['identical-values', 9_800, 10_250, 450],
      ['lost-coupling', 13_000, 13_040, 40],
      ['lost-coupling', 19_950, 20_180, 230],
      ['probe-lifted-over-splice', 19_950, 20_180, 230],
      ['probe-lifted-over-splice', 29_900, 30_050, 150],
    ]);
    const [quiet, ...otherQuiet] = answer.findings.filter(({ rule }) => rule === 'noise-floor');
    // Windows of a metre of whole cells: those that begin in [5000, 7000), half of whose cells were quiet at least.
    expect([quiet?.interval, otherQuiet]).toEqual([{ fromMm: 5_120, toMm: 7_168 }, []]);
    expect(quiet?.figure).toBeLessThan(0.01);
    const off = answer.findings.filter(({ rule }) => rule === 'off-weld-line');
    expect(off.map(({ interval: { fromMm, toMm }, figure }) => [fromMm, toMm, figure === null])).toEqual([[5_120, 7_168, false], [24_096, 26_144, false], [33_000, 33_500, true]]);
    expect(answer.findings.find(({ rule }) => rule === 'implausible-share')).toMatchObject({ interval: { fromMm: 14_096, toMm: 15_120 }, limit: 1 });
    expect(named(answer, 'saturated-share')).toEqual([['saturated-share', 16_144, 17_168, expect.any(Number)]]);
    expect(answer.findings.every(({ run }) => run['id'] === runId)).toBe(true);
    expect(answer.findings.find(({ rule, interval }) => rule === 'lost-coupling' && interval.fromMm === 13_000)).toMatchObject({ from: expect.stringMatching(/^2026-03-02T06:12:/), until: expect.stringMatching(/^2026-03-02T06:12:/) });
    expect(answer.findings.filter(({ rule }) => rule === 'probe-lifted-over-splice').map(({ records }) => records.map(({ kind, id }) => [kind, id]))).toEqual([
      [['splice', splices[0]]], [['splice', splices[1]], ['signal-mark', expect.any(String)]],
    ]);
    expect(answer.rules.map(({ applied }) => applied)).toEqual(Array(7).fill(true));
    expect(answer.cost).toMatchObject({ samples: 40_000, blocks: 12 });
    expect(answer.cost.blocksRead).toBeLessThanOrEqual(6);
  });

  test('is asked about a part of the pipe, with windows of one\'s own, and says which rules the channel leaves out', async () => {
    await inParts(0, 20_000, 40_000);
    expect(named(await watch('&fromM=12.5&toM=13.2'), 'lost-coupling')).toEqual([['lost-coupling', 13_000, 13_040, 40]]);
    expect(named(await watch('&fromM=13.040&toM=13.6'))).toEqual([]);
    const fine = await watch('&windowM=0.1&fromM=4&toM=8');
    expect(named(fine, 'noise-floor')).toEqual([['noise-floor', 5_120, 6_912, expect.any(Number)]]);
    expect(await amend('channels', seam, 1, { noiseFloorLeast: null, stuckAfter: null, spliceMarginMm: null })).toMatchObject({ status: 200 });
    const bare = await watch();
    expect(bare.rules.filter(({ applied }) => !applied).map(({ rule }) => rule)).toEqual(['noise-floor', 'identical-values', 'probe-lifted-over-splice']);
    expect(named(bare, 'noise-floor', 'identical-values', 'probe-lifted-over-splice')).toEqual([]);
  });

  test('looks for stuck readings by the rule of today, whatever the samples were taken by', async () => {
    expect(await amend('channels', seam, 1, { stuckAfter: null })).toMatchObject({ status: 200 });
    await inParts(0, 20_000);
    expect(named(await watch(), 'identical-values')).toEqual([]);
    expect(await amend('channels', seam, 2, { stuckAfter: 450 })).toMatchObject({ status: 200 });
    expect(named(await watch(), 'identical-values')).toEqual([['identical-values', 9_800, 10_250, 450]]);
    expect(await amend('channels', seam, 3, { stuckAfter: 451 })).toMatchObject({ status: 200 });
    expect(named(await watch(), 'identical-values')).toEqual([]);
  });

  test('places samples that come by time by the readings of the counter, and parts them where the pipe turned', async () => {
    // 10 m forward in 10 minutes, 4 m back in 4, in one part at a sample every 100 ms: 6000 and 2400 samples, over three blocks.
    for (const [clock, counted] of [['06:10', '0'], ['06:20', '10000'], ['06:24', '6000']] as const) await made('counter-readings', reading(clock, counted));
    const timed = await made('channels', channel(stringId(), 'timed', { sampling: { per: 'time', everyMs: '100' }, zone: 'whole', plausible: { from: '0', to: '110' } }));
    const run = await made('inspection-runs', inspectionRun(stringId(), [timed], { observedAt: at('06:06') }));
    const id = await openUpload(post, upload(run, [{ column: 'timed', channelId: timed }], { position: 'time' }));
    const fromUs = Date.parse(at('06:10')) * 1_000;
    const counter = range(0, 8_400).map((nth) => fromUs + nth * 100_000);
    // Nothing was read from 9.8 m on until the pipe was back there: 120 samples forward and 120 backward.
    const bytes = arrowPart({ counter, values: { timed: counter.map((_, nth) => (inside(nth, 5_880, 6_120) ? -999 : 50 + 10 * noise(nth))) } });
    const sending = await engineer().send('PUT', `/api/signal-uploads/${id}/parts/1`, {
      body: Buffer.from(bytes), headers: { 'content-type': 'application/vnd.apache.arrow.stream', 'content-digest': digestOfBytes(bytes) },
    });
    expect(sending.status).toBe(200);
    const answer = (await get('casing-strings', `${stringId()}/channel-watch`, `?channelId=${timed}`)) as unknown as Watch;
    expect(named(answer)).toEqual([['lost-coupling', 9_802, 10_000, 198], ['lost-coupling', 9_800, 9_998, 198]].sort((a, b) => Number(a[1]) - Number(b[1])));
    expect(answer.cost.samples).toBe(8_400);
  });

  test('says of how much pipe the noise is not known, for want of values', async () => {
    await inParts(0, 10, 20, 2_020);
    const { rules } = await watch();
    const words = rules.filter(({ rule }) => rule === 'noise-floor' || rule === 'off-weld-line').map((one) => one.words);
    // Windows of a metre have other cells beside the two of ten samples; windows of 10 mm have not.
    expect(words).toEqual([expect.not.stringContaining('no cell has 16 values'), expect.stringContaining('Some runs have fewer than 8 windows')]);
    const { rules: fine } = await watch('&windowM=0.01');
    expect(fine.find(({ rule }) => rule === 'noise-floor')?.words).toContain('Over 20 mm no cell has 16 values that were read');
  });

  test('knows nothing of what came later than the instant it is asked about', async () => {
    const before = new Date().toISOString();
    await inParts(0, 20_000);
    expect(named(await watch(`&asKnownAt=${before}`))).toEqual([]);
    expect(named(await watch()).length).toBeGreaterThan(3);
  });

  test('tells everything wrong with a question at once, and knows channels of its own string only', async () => {
    const refused = await engineer().send('GET', `/api/casing-strings/${stringId()}/channel-watch?fromM=3&toM=2&windowM=0.001&speed=1`);
    expect([refused.status, fieldsRefused(refused)]).toEqual([400, ['speed', 'channelId', 'toM', 'windowM']]);
    const strange = await engineer().send('GET', `/api/casing-strings/${stringId()}/channel-watch?channelId=${runId}`);
    expect(strange.status).toBe(404);
  });
});

test('a channel that reads everything twice is refused as too much, and told of over less pipe', async () => {
  const pairs = await made('channels', channel(stringId(), 'pairs', { measures: 'ultrasonic-amplitude', unit: '%', zone: 'body', stuckAfter: 2, plausible: null, saturatesAt: null, threshold: null }));
  const run = await made('inspection-runs', inspectionRun(stringId(), [pairs]));
  const id = await openUpload(post, upload(run, [{ column: 'pairs', channelId: pairs }]));
  const counter = range(0, 45_000);
  const answer = await sendPart(engineer().send, id, 1, {
    counter, values: { pairs: counter.map((mm) => Math.floor(mm / 2) % 100) }, firstAt: '2026-03-02T06:10:00Z', lastAt: '2026-03-02T06:10:59Z',
  });
  expect(answer.status).toBe(200);
  const ask = (more: string) => engineer().send('GET', `/api/casing-strings/${stringId()}/channel-watch?channelId=${pairs}${more}`);
  expect(await ask('')).toMatchObject({ status: 422, body: { type: 'urn:everymetre:problem:too-much-at-once', errors: [{ field: 'toM' }] } });
  const { status, body } = await ask('&toM=10');
  expect([status, (body['findings'] as Fields[]).filter(({ rule }) => rule === 'identical-values').length]).toEqual([200, 5_000]);
});
