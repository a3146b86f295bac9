import { beforeAll, beforeEach, describe, expect, test } from '@jest/globals';
import { entered, permitted } from '../setup/string-builder.js';
import { chartOf, rowOf, shownLeftOut, shownPoints } from './characteristics.factory.js';
import { at, lineFactory, type Fields } from './line.factory.js';
import { channel, inspectionRun, openUpload, range, sendPart, upload } from './signals.factory.js';

const { api, engineer, stringId, post, made, amend, withdraw, period, setup, reading } = lineFactory();

/** Coils A to C, of 12 m, 20 m and 8 m of pipe, with splices of 100 mm between them; D is on the string and no pipe yet. */
const ENDS_MM = [0, 12_000, 32_000, 40_000];
let drawn = 0;
let coilIds: string[];
let spliceIds: string[];
let procedureId: string;

beforeAll(async () => {
  procedureId = await made('weld-procedures', {
    observedAt: at('05:00'), number: 'WP-21', revision: 1, title: 'Seam of 5 mm strip', purpose: 'seam', process: 'HFW', effectiveFrom: '2025-06-01', ranges: [{ variable: 'power', min: '160', max: '200', unit: 'kW' }], lists: [],
  });
});

beforeEach(async () => {
  const tag = `C${String((drawn += 1))}`;
  await made('counter-periods', period());
  await made('line-setups', setup());
  for (const [clock, mm] of [['06:00', 0], ['10:00', 40_000]] as const) expect(await engineer().send('POST', '/api/counter-readings', { body: reading(clock, String(mm)) })).toMatchObject({ status: 201 });
  const heatId = await made('heats', { observedAt: at('05:00'), number: `H-${tag}`, grade: 'S420MC' });
  coilIds = [];
  for (const letter of ['A', 'B', 'C', 'D']) {
    const id = await made('coils', { observedAt: at('05:00'), number: `${tag}-${letter}`, heatId, widthMm: '400.0', thicknessMm: '5.00', massKg: '7850', lengthMm: 500_000 });
    await permitted(engineer(), id);
    coilIds.push(id);
  }
  for (const [index, coilId] of coilIds.slice(0, 3).entries()) {
    const [fromMm, toMm] = [ENDS_MM[index] ?? 0, ENDS_MM[index + 1] ?? 0];
    await made('coil-segments', { stringId: stringId(), observedAt: at('06:00'), coilId, from: { footageMm: fromMm }, to: { footageMm: toMm }, stripFromMm: 0, stripToMm: toMm - fromMm, runs: 'head-first' });
  }
  spliceIds = [];
  for (const index of [0, 1, 2]) {
    const fromMm = ENDS_MM[index + 1] ?? 0;
    spliceIds.push(await made('splices', {
      observedAt: at('06:05'), stringId: stringId(), number: `S-${index + 1}`, leavingCoilId: coilIds[index], enteringCoilId: coilIds[index + 1], from: { footageMm: fromMm }, to: { footageMm: fromMm + 100 },
      angleDeg: '90', hand: 'square', confirmed: true, verdict: 'accepted',
    }));
  }
});

async function now(): Promise<string> {
  const [row]: { now: string }[] = await api().dataSource.query("select to_char(clock_timestamp() at time zone 'UTC', 'YYYY-MM-DD\"T\"HH24:MI:SS.US\"Z\"') as now");
  return row?.now ?? '';
}

/** A channel with a sample a millimetre on 40 m, its values by their footage. */
async function inspected(valueOf: (mm: number) => number, changes: Fields = {}, name = 'UT-wall-1'): Promise<string> {
  const channelId = await made('channels', channel(stringId(), name, changes));
  const runId = await made('inspection-runs', inspectionRun(stringId(), [channelId]));
  const uploadId = await openUpload(post, upload(runId, [{ column: 'wall', channelId }]));
  const counter = range(0, 40_000);
  expect(await sendPart(engineer().send, uploadId, 1, { counter, values: { wall: counter.map(valueOf) }, firstAt: at('06:10'), lastAt: at('09:50') })).toMatchObject({ status: 200 });
  return channelId;
}

describe('a channel by lengths of pipe', () => {
  // In a step each 16 m. Of the window from 13.1 m to 17.1 m the cells of 256 samples from 13,312 to 16,896 mm count: a quarter of them, 896 mm, lies beyond 16 m.
  const stepped = (mm: number): number => 5 + Math.floor(mm / 16_000) / 8;
  const windows = { size: 1, withinMm: 0, everyMm: 4_000 };

  test('reads its summaries window by window, from each splice on anew, and leaves out what the plan does', async () => {
    const channelId = await inspected(stepped);
    const plan = chartOf(stringId(), { of: 'channel', channelIds: [channelId], statistic: 'mean', windowMm: 4_000 }, { subgroup: windows, leaveOut: { aroundSplicesMm: 1_000, aroundStopsMm: 0 } });
    const row = await rowOf(api(), plan);
    expect(shownPoints(row)).toEqual([
      '0-4000: 5', '4000-8000: 5', '13100-17100: 5.03125 anew', '17100-21100: 5.125', '21100-25100: 5.125', '25100-29100: 5.125', '33100-37100: 5.25 anew',
    ]);
    expect(shownLeftOut(row)).toEqual([
      '8000-12000 within 1.000 m of splice S-1', '12000-13100 within 1.000 m of splice S-1', '29100-32000 too little pipe before splice S-2', '32000-33100 within 1.000 m of splice S-2', '37100-40000 too little pipe before splice S-3',
    ]);
    expect(row.points[0]).toMatchObject({ coil: expect.stringMatching(/-A$/), readings: [{ records: [{ kind: 'channel', id: channelId }, { kind: 'inspection-run' }] }] });
    expect(row.leftOut[0]?.records).toMatchObject([{ kind: 'splice', id: spliceIds[0] }]);
  });

  test('loses no extreme of any metre, wherever in it, and shows none of pipe that is left out', async () => {
    // In each metre one place as deep as its number, further along from metre to metre; and a hole in the pipe beside each splice.
    const placeIn = (metre: number): number => metre * 1_000 + (metre * 373) % 1_000;
    const depths = new Map(range(0, 40).map((metre) => [placeIn(metre), 4 + metre / 1_000]));
    const channelId = await inspected((mm) => (Math.abs(mm - 12_050) < 400 ? 1 : depths.get(mm) ?? 5));
    const plan = chartOf(stringId(), { of: 'channel', channelIds: [channelId], statistic: 'least', windowMm: 1_000 }, { subgroup: { size: 1, withinMm: 0, everyMm: 1_000 }, leaveOut: { aroundSplicesMm: 500, aroundStopsMm: 0 } });
    const { points } = await rowOf(api(), plan);
    expect(points.length).toBeGreaterThan(30);
    for (const { place, values: [value = NaN] } of points) {
      const { fromMm, toMm } = place as { fromMm: number; toMm: number };
      const within = (around: number): number => Math.min(5, ...[...depths].filter(([mm]) => mm >= fromMm - around && mm < toMm + around).map(([, depth]) => depth));
      expect(value).toBeLessThanOrEqual(within(0));
      expect(value).toBeGreaterThanOrEqual(within(256));
    }
  });

  test('is broken by a splice that was moved where it lies now, and where it lay then', async () => {
    const channelId = await inspected(stepped);
    const plan = chartOf(stringId(), { of: 'channel', channelIds: [channelId], statistic: 'least', windowMm: 4_000 }, { subgroup: windows, leaveOut: { aroundSplicesMm: 0, aroundStopsMm: 0 } });
    const before = await now();
    expect(await amend('splices', String(spliceIds[0]), 1, { from: { footageMm: 11_000 }, to: { footageMm: 11_100 } })).toMatchObject({ status: 200 });
    const begun = (shown: readonly string[]): string[] => shown.map((point) => point.replace(/:.*?( anew)?$/, '$1'));
    // The coil still ends at 12 m, by its segment.
    expect(begun(shownPoints(await rowOf(api(), plan, { interval: { fromMm: 0, toMm: 20_000 } })))).toEqual(['0-4000', '4000-8000', '12000-16000 anew', '16000-20000']);
    expect(begun(shownPoints(await rowOf(api(), plan, { interval: { fromMm: 0, toMm: 20_000 }, asKnownAt: before })))).toEqual(['0-4000', '4000-8000', '8000-12000', '12000-16000 anew', '16000-20000']);
  });

  test('puts windows close together into subgroups, starts anew at a stop and a check, and leaves out what is marked or was not read', async () => {
    // Only every 500 mm a sample: too few for summaries, so that samples tell.
    const channelId = await made('channels', channel(stringId(), 'UT-wall-2'));
    const runId = await made('inspection-runs', inspectionRun(stringId(), [channelId]));
    const uploadId = await openUpload(post, upload(runId, [{ column: 'wall', channelId }]));
    const counter = range(0, 30_000, 500);
    expect(await sendPart(engineer().send, uploadId, 1, { counter, values: { wall: counter.map((mm) => 5 + mm / 100_000) }, firstAt: at('06:10'), lastAt: at('09:00') })).toMatchObject({ status: 200 });
    const standardId = await made('instruments', { observedAt: at('05:00'), number: `RS-${stringId().slice(-8)}`, kind: 'reference-standard', name: 'Stepped tube', measures: ['wall'], unit: 'mm' });
    await made('reference-checks', {
      stringId: stringId(), observedAt: at('07:00'), from: { footageMm: 20_000 }, runId, standardId, mode: 'static', occasion: 'interval', results: [{ channelId, reflector: 'step 5', size: null, amplitude: '5.01', threshold: '4.5', sense: 'below' }],
    });
    const markId = await made('signal-marks', { stringId: stringId(), observedAt: at('07:10'), from: { footageMm: 24_500 }, to: { footageMm: 24_600 }, runId, channelIds: [channelId], effect: 'not-valid', cause: 'coupling-lost' });
    const plan = chartOf(stringId(), { of: 'channel', channelIds: [channelId], statistic: 'mean', windowMm: 1_000 }, { subgroup: { size: 2, withinMm: 1_000, everyMm: 4_000 } });
    const row = await rowOf(api(), plan, { interval: { fromMm: 12_000, toMm: 40_000 } });
    // Of two samples each: 12,000 and 12,500 mm are 5.12 and 5.125.
    expect(shownPoints(row)).toEqual(['12000-14000: 5.1225, 5.1325', '16000-18000: 5.1625, 5.1725', '20000-22000: 5.2025, 5.2125 anew', '28000-30000: 5.2825, 5.2925']);
    expect(shownLeftOut(row)).toEqual(['24000-26000 marked as not-valid: coupling-lost', '32000-34000 nothing of a window was read by UT-wall-2', '36000-38000 nothing of a window was read by UT-wall-2']);
    expect(row.leftOut[0]?.records).toMatchObject([{ kind: 'signal-mark', id: markId }]);
  });

  test('is of samples where windows are short, of those in the windows alone, whichever way the pipe went', async () => {
    const [forward, backward] = [await made('channels', channel(stringId(), 'UT-wall-3')), await made('channels', channel(stringId(), 'UT-wall-4'))];
    const runId = await made('inspection-runs', inspectionRun(stringId(), [forward, backward]));
    for (const [nth, channelId] of [forward, backward].entries()) {
      const counter = nth === 0 ? range(0, 12_000) : range(0, 12_000).reverse();
      const uploadId = await openUpload(post, upload(runId, [{ column: 'wall', channelId }]));
      expect(await sendPart(engineer().send, uploadId, 1, {
        counter, values: { wall: counter.map((mm) => 5 + Math.floor(mm / 100) / 128) }, firstAt: at(`0${7 + nth}:10`), lastAt: at(`0${7 + nth}:50`), direction: nth === 0 ? 'forward' : 'backward',
      })).toMatchObject({ status: 200 });
    }
    // 100 mm each 5 m: 50 steps of 1/128 from one to the next. And 1 m each 5 m, of whole cells.
    for (const channelId of [forward, backward]) {
      const short = chartOf(stringId(), { of: 'channel', channelIds: [channelId], statistic: 'mean', windowMm: 100 }, { subgroup: { size: 2, withinMm: 100, everyMm: 5_000 } });
      expect(shownPoints(await rowOf(api(), short, { interval: { fromMm: 0, toMm: 12_000 } }))).toEqual(['0-200: 5, 5.007813', '5000-5200: 5.390625, 5.398438', '10000-10200: 5.78125, 5.789063']);
      const extremes = chartOf(stringId(), { of: 'channel', channelIds: [channelId], statistic: 'greatest', windowMm: 1_000 }, { subgroup: { size: 1, withinMm: 0, everyMm: 5_000 } });
      const shown = shownPoints(await rowOf(api(), extremes, { interval: { fromMm: 0, toMm: 12_000 } }));
      // Cells begin at each 256 mm from 0 on where the pipe ran forwards, from 11,999 mm down where it ran backwards: the last ones that the windows meet end at 1,023, 6,143 and 11,007 mm, or at 1,247, 6,111 and 11,231 mm.
      const lastMm = channelId === forward ? [1_023, 6_143, 11_007] : [1_247, 6_111, 11_231];
      expect(shown).toEqual([0, 5_000, 10_000].map((fromMm, nth) => `${fromMm}-${fromMm + 1_000}: ${Number((5 + Math.floor((lastMm[nth] ?? 0) / 100) / 128).toFixed(6))}`));
    }
  });

  test('of several channels makes vectors, each in its own unit; of one in another unit nothing', async () => {
    const one = await inspected(stepped);
    const other = await inspected((mm) => 20 + (mm % 2) * 2, { measures: 'eddy-current-amplitude', unit: '%', method: 'ET', zone: 'seam', threshold: { sense: 'above', level: '60' }, plausible: null }, 'ET-1');
    const vectors = await rowOf(api(), chartOf(stringId(), { of: 'channel', channelIds: [one, other], statistic: 'mean', windowMm: 6_000 }, { unit: 'mm, %' }), { interval: { fromMm: 0, toMm: 12_000 } });
    expect(shownPoints(vectors)).toEqual(['0-6000: 5, 21', '6000-12000: 5, 21']);
    const spread = await rowOf(api(), chartOf(stringId(), { of: 'channel', channelIds: [other], statistic: 'spread', windowMm: 6_000 }, { unit: '%' }), { interval: { fromMm: 0, toMm: 6_000 } });
    // As many of 20 as of 22, n = 22 cells of 256: 23 less the one that reaches over 6 m.
    expect(shownPoints(spread)).toEqual([`0-6000: ${Number(Math.sqrt((23 * 256) / (23 * 256 - 1)).toFixed(6))}`]);
    const wrong = await rowOf(api(), chartOf(stringId(), { of: 'channel', channelIds: [other], statistic: 'mean', windowMm: 6_000 }), { interval: { fromMm: 0, toMm: 6_000 } });
    expect([shownPoints(wrong), shownLeftOut(wrong)]).toEqual([[], ['0-6000 it is in %, and the chart is in mm']]);
  });
});

describe('readings of incoming coils', () => {
  const checked = async (index: number, printed: readonly string[], changes: Fields = {}): Promise<string> => entered(engineer(), 'incoming-checks', {
    observedAt: at('05:05'), coilId: coilIds[index], characteristic: 'thickness', unit: 'mm', instrument: 'MI-07', readings: printed.map((one) => ({ printed: one, along: 'head', across: 'centre' })), ...changes,
  });

  test('make subgroups coil by coil in the order of the pipe, those of no pipe yet behind', async () => {
    await checked(3, ['5.04', '5.06']);
    await checked(1, ['5.02', '5.00', '4.98']);
    const first = await checked(0, ['5.01', '5.03']);
    await checked(0, ['2.0'], { characteristic: 'camber', baseMm: '2000' });
    const plan = chartOf(stringId(), { of: 'coil-reading', name: 'thickness' }, { subgroup: { size: 2, withinMm: 0, everyMm: 0 } });
    const row = await rowOf(api(), plan);
    expect(shownPoints(row)).toEqual(['0-12000: 5.01, 5.03', '12000-32000: 5.02, 5', 'no pipe: 5.04, 5.06']);
    expect(row.points.map(({ label, coil, readings }) => [label.slice(-1), coil === label, readings[0]?.records[0]?.kind])).toEqual([['A', true, 'incoming-check'], ['B', true, 'incoming-check'], ['D', true, 'incoming-check']]);
    expect(shownLeftOut(row)).toEqual([expect.stringMatching(/^32000-40000 coil C\d+-C: no thickness on record$/), expect.stringMatching(/^12000-32000 too few readings of coil C\d+-B for one more subgroup of 2$/)]);
    const before = await now();
    expect(await withdraw('incoming-checks', first, 1)).toMatchObject({ status: 200 });
    expect(shownPoints(await rowOf(api(), plan))).toEqual(['12000-32000: 5.02, 5', 'no pipe: 5.04, 5.06']);
    expect(shownPoints(await rowOf(api(), plan, { asKnownAt: before }))).toEqual(shownPoints(row));
  });

  test('are converted into the unit of the chart, and a bound is told and left out', async () => {
    await checked(0, ['0.2000'], { unit: 'in' });
    await checked(1, ['≥5.2', '5.00']);
    const row = await rowOf(api(), chartOf(stringId(), { of: 'coil-reading', name: 'thickness' }));
    expect(shownPoints(row)).toEqual(['0-12000: 5.08', '12000-32000: 5']);
    expect(shownLeftOut(row)).toEqual([
      expect.stringContaining('head, centre: "≥5.2" is no plain number'), expect.stringMatching(/^32000-40000 coil C\d+-C: no thickness on record$/), expect.stringMatching(/^no pipe coil C\d+-D: no thickness on record$/),
    ]);
  });
});

describe('readings of splices', () => {
  const hardness = async (index: number, printed: readonly string[], unit = 'HV10'): Promise<string> => entered(engineer(), 'splice-steps', {
    observedAt: at('07:00'), stringId: stringId(), spliceId: spliceIds[index], stage: 'after-forming', outcome: 'accepted', examinations: [], coupons: [], photoSha256s: [],
    readings: [...printed.map((one) => ({ measured: 'hardness-weld', printed: one, unit })), { measured: 'hardness-haz', printed: '238', unit: 'HV10' }],
  });
  const plan = () => chartOf(stringId(), { of: 'splice-reading', name: 'hardness-weld' }, { unit: 'HV10', subgroup: { size: 2, withinMm: 0, everyMm: 0 }, leaveOut: { aroundSplicesMm: 1_000, aroundStopsMm: 0 } });

  test('are missed where a splice has none', async () => {
    await hardness(1, ['221', '224']);
    const row = await rowOf(api(), plan());
    expect(shownLeftOut(row)).toEqual(['12000-12100 splice S-1: no hardness-weld on record']);
    expect(row.leftOut[0]?.records).toMatchObject([{ kind: 'splice', id: spliceIds[0] }]);
  });

  test('make a subgroup a splice, which is not left out for being one; another scale is', async () => {
    await hardness(1, ['221', '224']);
    await hardness(0, ['218', '215']);
    await hardness(2, ['21', '22'], 'HRC');
    const row = await rowOf(api(), plan());
    expect(row.points.map(({ label, values, beginsAnew }) => [label, values, beginsAnew])).toEqual([['S-1', [218, 215], false], ['S-2', [221, 224], false]]);
    expect(row.points[0]?.readings[0]?.records).toMatchObject([{ kind: 'splice-step' }, { kind: 'splice', id: spliceIds[0] }]);
    const further = await rowOf(api(), plan(), { interval: { fromMm: 0, toMm: 41_000 } });
    expect(shownLeftOut(further)).toEqual(Array(2).fill('40000-40100 splice S-3: it is in HRC, and the chart is in HV10'));
    expect(shownPoints(await rowOf(api(), plan(), { interval: { fromMm: 20_000, toMm: 40_000 } }))).toEqual(['32000-32100: 221, 224']);
  });

  test('go with a splice that is moved', async () => {
    await hardness(0, ['218', '215']);
    const before = await now();
    expect(await amend('splices', String(spliceIds[0]), 1, { from: { footageMm: 11_000 }, to: { footageMm: 11_100 } })).toMatchObject({ status: 200 });
    expect(shownPoints(await rowOf(api(), plan()))).toEqual(['11000-11100: 218, 215']);
    expect(shownPoints(await rowOf(api(), plan(), { asKnownAt: before }))).toEqual(['12000-12100: 218, 215']);
  });
});

describe('inspections', () => {
  const measured = async (footageMm: number, value: string, changes: Fields = {}): Promise<string> => entered(engineer(), 'inspections', {
    stringId: stringId(), observedAt: at('09:00'), from: { footageMm }, kind: 'dimensional', characteristic: 'bead height', value, unit: 'mm', verdict: 'accepted', ...changes,
  });
  const event = async (kind: string, footageMm: number, clock: string): Promise<string> => entered(engineer(), 'seam-events', {
    stringId: stringId(), observedAt: at(clock), from: { footageMm }, event: kind, weldProcedureId: procedureId, readings: [], ...(kind === 'stop' ? { cause: 'Cropped strip end' } : {}),
  });

  test('close together make subgroups within a coil; a stop breaks the row, and what lies near it is left out', async () => {
    for (const [mm, value] of [[1_000, '0.31'], [1_200, '0.33'], [1_300, '0.40'], [6_000, '0.35'], [11_950, '0.30'], [12_050, '0.36'], [12_200, '0.34'], [20_500, '0.9'], [22_000, '0.32'], [22_100, '0.38']] as const) await measured(mm, value);
    await measured(22_100, '1.0', { characteristic: 'outside diameter' });
    await event('stop', 20_000, '07:00');
    await event('restart', 20_000, '07:20');
    const plan = chartOf(stringId(), { of: 'inspected', name: 'bead height' }, { subgroup: { size: 2, withinMm: 500, everyMm: 3_000 }, leaveOut: { aroundSplicesMm: 0, aroundStopsMm: 1_000 } });
    const row = await rowOf(api(), plan);
    expect(shownPoints(row)).toEqual(['1000-1201: 0.31, 0.33', '12050-12201: 0.36, 0.34 anew', '22000-22101: 0.32, 0.38 anew']);
    expect(shownLeftOut(row)).toEqual([
      '1300-1301 between subgroups: less than 3.000 m after the one before began', '6000-6001 too few beside it within 0.500 m', '11950-11951 too few beside it before splice S-1', '20500-20501 within 1.000 m of stop at 20000 mm',
    ]);
    expect(row.points.map(({ coil }) => coil?.slice(-1))).toEqual(['A', 'B', 'B']);
  });

  test('are counted by length: how many were rejected of how many', async () => {
    for (const [mm, verdict] of [[1_000, 'accepted'], [2_000, 'rejected'], [7_000, 'accepted'], [13_000, 'rejected'], [14_000, 'rejected']] as const) await measured(mm, '0.3', { verdict });
    const row = await rowOf(api(), chartOf(stringId(), { of: 'rejected-inspections', name: 'bead height', windowMm: 6_000 }), { interval: { fromMm: 0, toMm: 24_000 } });
    expect(shownPoints(row)).toEqual(['0-6000: 1 of 2', '6000-12000: 0 of 1', '12000-18000: 2 of 2 anew']);
    expect(shownLeftOut(row)).toEqual(['18000-24000 nothing was inspected']);
  });
});

describe('indications and repairs', () => {
  const indicated = async (footageMm: number, channelIds: readonly string[] = []): Promise<string> => entered(engineer(), 'indications', {
    stringId: stringId(), observedAt: at('08:00'), from: { footageMm }, to: { footageMm: footageMm + 50 }, channelIds, method: 'VT',
  });

  test('are counted on each length, less at its end and where pipe is left out; gaps go from one to the next over splices', async () => {
    const ids: string[] = [];
    for (const mm of [500, 3_000, 11_500, 12_500, 21_000, 21_000]) ids.push(await indicated(mm));
    const counts = chartOf(stringId(), { of: 'indications', windowMm: 8_000 }, { leaveOut: { aroundSplicesMm: 1_000, aroundStopsMm: 0 } });
    const row = await rowOf(api(), counts, { interval: { fromMm: 0, toMm: 28_000 } });
    // From 8 m to the splice at 12 m 3 m are left; from it on, 6.9 m of 8 m.
    expect(shownPoints(row)).toEqual(['0-8000: 2 of 8', '8000-12000: 0 of 3', '12000-20000: 0 of 6.9 anew', '20000-28000: 2 of 8']);
    expect(shownLeftOut(row)).toEqual(['11500-11550 within 1.000 m of splice S-1', '12500-12550 within 1.000 m of splice S-1']);
    const gaps = chartOf(stringId(), { of: 'between-indications' }, { unit: 'm' });
    expect(shownPoints(await rowOf(api(), gaps))).toEqual(['500-3000: 2.5', '3000-11500: 8.5', '11500-12500: 1', '12500-21000: 8.5']);
    expect(shownLeftOut(await rowOf(api(), gaps))).toEqual(['21000-21050 it begins where the one before it does: one event']);
    const before = await now();
    expect(await withdraw('indications', ids[2] ?? '', 1)).toMatchObject({ status: 200 });
    expect(shownPoints(await rowOf(api(), gaps))).toEqual(['500-3000: 2.5', '3000-12500: 9.5', '12500-21000: 8.5']);
    expect(shownPoints(await rowOf(api(), gaps, { asKnownAt: before }))).toHaveLength(4);
  });

  test('repairs are counted for each 1,000 m', async () => {
    for (const footageMm of [3_000, 30_000]) {
      await entered(engineer(), 'repairs', {
        stringId: stringId(), observedAt: at('09:30'), from: { footageMm }, to: { footageMm: footageMm + 50 }, method: 'grinding', found: 'Scratch', depthRemovedMm: '0.35', remainingWallMm: '4.62', wallLimitMm: '4.50', readings: [], chosen: [], photoSha256s: [],
      });
    }
    expect(shownPoints(await rowOf(api(), chartOf(stringId(), { of: 'repairs', windowMm: 16_000 }, { unit: 'per 1,000 m' })))).toEqual([
      '0-12000: 1 of 0.012', '12000-28000: 0 of 0.016 anew', '28000-32000: 1 of 0.004', '32000-40000: 0 of 0.008 anew',
    ]);
  });
});

describe('the inspection and the counters', () => {
  test('show what a channel gave of a reflector, check by check; void ones and bounds are told', async () => {
    const channelId = await inspected(() => 20, { measures: 'eddy-current-amplitude', unit: '%', method: 'ET', zone: 'seam', threshold: { sense: 'above', level: '60' }, plausible: null });
    const runId = await made('inspection-runs', inspectionRun(stringId(), [channelId], { observedAt: at('06:01') }));
    const standardId = await made('instruments', { observedAt: at('05:00'), number: `RS-${stringId().slice(-8)}`, kind: 'reference-standard', name: 'Notched tube', measures: ['notch'], unit: 'mm' });
    const checked = async (clock: string, footageMm: number, amplitude: string, changes: Fields = {}): Promise<string> => entered(engineer(), 'reference-checks', {
      stringId: stringId(), observedAt: at(clock), from: { footageMm }, runId, standardId, mode: 'dynamic', occasion: 'interval', ...changes,
      results: ['N10 outside', 'hole 1.6'].map((reflector) => ({ channelId, reflector, size: null, amplitude: reflector === 'N10 outside' ? amplitude : '88', threshold: '60', sense: 'above' })),
    });
    await checked('08:05', 20_000, '73');
    await checked('06:05', 0, '74.5', { occasion: 'start' });
    await checked('08:15', 20_000, '72');
    await checked('08:35', 21_000, '≥100');
    await checked('08:45', 22_000, '10', { voidReason: 'Standard not seated' });
    const row = await rowOf(api(), chartOf(stringId(), { of: 'reference-amplitude', channelIds: [channelId], reflector: 'N10 outside' }, { unit: '%' }));
    expect(shownPoints(row)).toEqual(['0-1: 74.5', '20000-20001: 73', '20000-20001: 72']);
    expect(shownLeftOut(row)).toEqual(['21000-21001 "≥100" is no plain number: a bound is no reading', '22000-22001 the check counts for nothing: Standard not seated']);
  });

  test('tell pipe by one counter over pipe by another, by windows within which both have readings', async () => {
    const other = (changes: Fields): Fields => ({ ...period({ counter: 'encoder 2', ...changes }) });
    await made('counter-periods', other({}));
    const counted = async (clock: string, mm: number, by = 'encoder 2'): Promise<void> => {
      expect(await engineer().send('POST', '/api/counter-readings', { body: reading(clock, String(mm), { counter: by }) })).toMatchObject({ status: 201 });
    };
    // The master counter makes 10 m an hour: encoder 2 keeps up with it, then loses one part in a hundred.
    for (const [clock, mm] of [['06:00', 0], ['07:00', 10_000], ['08:00', 19_900], ['09:00', 29_800], ['10:00', 39_700]] as const) await counted(clock, mm);
    const plan = chartOf(stringId(), { of: 'counter-ratio', counters: ['encoder 2', 'main'], windowMm: 10_000 }, { unit: '1' });
    const row = await rowOf(api(), plan, { interval: { fromMm: 0, toMm: 40_000 } });
    // Windows begin at the splices too: from 12 m to 22 m only the instant at 20 m lies in one.
    expect(shownPoints(row)).toEqual(['0-10000: 1']);
    expect(shownLeftOut(row)).toContain('12000-22000 fewer than two readings that both counters have');
    const wide = await rowOf(api(), { ...plan, characteristic: { ...plan.characteristic, windowMm: 20_000 } });
    expect(shownPoints(wide)).toEqual(['12000-32000: 0.99']);
    expect(wide.points[0]?.readings[0]?.records).toMatchObject([{ kind: 'counter-reading', label: 'encoder 2 19900' }, { kind: 'counter-reading', label: 'encoder 2 29800' }]);
  });
});
