import { beforeEach, describe, expect, test } from '@jest/globals';
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
    expect(shownLeftOut(row)).toEqual([expect.stringMatching(/^12000-32000 too few readings of coil C\d+-B for one more subgroup of 2$/)]);
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
    expect(shownLeftOut(row)).toEqual([expect.stringContaining('head, centre: "≥5.2" is no plain number')]);
  });
});

describe('readings of splices', () => {
  const hardness = async (index: number, printed: readonly string[], unit = 'HV10'): Promise<string> => entered(engineer(), 'splice-steps', {
    observedAt: at('07:00'), stringId: stringId(), spliceId: spliceIds[index], stage: 'after-forming', outcome: 'accepted', examinations: [], coupons: [], photoSha256s: [],
    readings: [...printed.map((one) => ({ measured: 'hardness-weld', printed: one, unit })), { measured: 'hardness-haz', printed: '238', unit: 'HV10' }],
  });
  const plan = () => chartOf(stringId(), { of: 'splice-reading', name: 'hardness-weld' }, { unit: 'HV10', subgroup: { size: 2, withinMm: 0, everyMm: 0 }, leaveOut: { aroundSplicesMm: 1_000, aroundStopsMm: 0 } });

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
