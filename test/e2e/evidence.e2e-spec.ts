import { beforeAll, beforeEach, describe, expect, test } from '@jest/globals';
import type { SignedIn } from '../setup/api.js';
import { permitted } from '../setup/string-builder.js';
import { evidenceOf, item, line, plan, told, type EvidenceBody } from './evidence.factory.js';
import { at, fieldsRefused, lineFactory, type Fields } from './line.factory.js';
import { channel, inspectionRun, openUpload, range, sendPart, upload } from './signals.factory.js';
import { splicesFrom } from './splices.factory.js';

const { api, engineer, stringId, post, made, amend, withdraw, period, setup, reading, hangOff, tie } = lineFactory();

let inspector: SignedIn;
let standardId: string;
let channelId: string;
let runId: string;
let uploadId: string;

beforeAll(async () => {
  inspector = await api().signIn('qc-inspector');
});

beforeEach(async () => {
  await made('counter-periods', period());
  await made('line-setups', setup());
  standardId = await made('instruments', { observedAt: at('05:00'), number: `RS-${stringId().slice(-8)}`, kind: 'reference-standard', name: 'Notched tube', measures: ['notch'], unit: 'mm' });
  channelId = await made('channels', channel(stringId(), 'ET-seam-1', { measures: 'eddy-current-amplitude', unit: '%', method: 'ET', zone: 'seam', threshold: { sense: 'above', level: '60' }, plausible: { from: null, to: null } }));
  runId = await made('inspection-runs', inspectionRun(stringId(), [channelId], { standardId }));
  uploadId = await openUpload(post, upload(runId, [{ column: 'seam', channelId }]));
  await counted('06:00', 0);
  await counted('10:00', 10_000);
});

const counted = async (clock: string, mm: number): Promise<void> => {
  expect(await engineer().send('POST', '/api/counter-readings', { body: reading(clock, String(mm)) })).toMatchObject({ status: 201 });
};

async function inspected(partNo: number, [fromMm, toMm]: readonly [number, number], [first, last]: readonly [string, string]): Promise<void> {
  const counter = range(fromMm, toMm);
  expect(await sendPart(engineer().send, uploadId, partNo, { counter, values: { seam: counter.map((mm) => 10 + (mm % 5)) }, firstAt: at(first), lastAt: at(last) })).toMatchObject({ status: 200 });
}

const checked = async (clock: string, showed: string, changes: Fields = {}): Promise<string> => made('reference-checks', {
  stringId: stringId(), observedAt: at(clock), from: { footageMm: 0 }, runId, standardId, mode: 'dynamic', occasion: 'interval',
  results: [{ channelId, reflector: 'N10 outside', size: '0.50 mm deep', amplitude: showed, threshold: '60', sense: 'above' }], ...changes,
});

const measured = async (footageMm: number, verdict: string): Promise<string> => made('inspections', {
  stringId: stringId(), observedAt: at('09:00'), from: { footageMm }, kind: 'dimensional', characteristic: 'outside diameter', value: '127.1', unit: 'mm', verdict,
});

const evidence = async (query = ''): Promise<EvidenceBody> => evidenceOf(engineer(), stringId(), query);

const planned = async (items: readonly Fields[], changes: Fields = {}): Promise<string> => made('control-plans', plan(stringId(), items, changes));

describe('evidence for every metre', () => {
  test('is missing while no control plan holds, and says so', async () => {
    await measured(1_000, 'accepted');
    const answer = await evidence();
    expect(answer).toMatchObject({ pipe: { lengthMm: 10_000 }, withoutPlanMm: 10_000, items: [] });
    expect(told(answer.verdict)).toBe('missing 0-10000');
    expect(answer.cautions[0]).toContain('No control plan holds');
  });

  test('goes item by item by the records, and its verdict is the worst', async () => {
    await planned([item('ET-1', 'channel-inspected', { channelId }), item('OD-1', 'dimension', { characteristic: 'outside diameter', reachMm: 2_000 }), item('NC-1', 'nonconformances-closed')]);
    await checked('06:05', '74.5', { occasion: 'start' });
    await inspected(1, [0, 5_000], ['06:10', '08:00']);
    await checked('08:05', '73');
    await inspected(2, [5_000, 9_000], ['08:10', '09:30']);
    await measured(2_000, 'accepted');
    await measured(6_000, 'rejected');
    const answer = await evidence();
    expect(line(answer, 'ET-1')).toBe('confirmed 0-5000, provisional 5000-9000, missing 9000-10000');
    expect(line(answer, 'OD-1')).toBe('confirmed 0-4000, suspect 4000-6000, failed 6000-6001, suspect 6001-8001, missing 8001-10000');
    expect(line(answer, 'NC-1')).toBe('confirmed 0-10000');
    expect(answer.verdict.map(({ fromMm, toMm, state, items }) => [state, fromMm, toMm, items])).toEqual([
      ['confirmed', 0, 4_000, ['ET-1', 'OD-1', 'NC-1']], ['suspect', 4_000, 6_000, ['OD-1']], ['failed', 6_000, 6_001, ['OD-1']], ['suspect', 6_001, 8_001, ['OD-1']],
      ['missing', 8_001, 9_000, ['OD-1']], ['missing', 9_000, 10_000, ['ET-1', 'OD-1']],
    ]);
    expect(answer.states.map(({ state, metres }) => [state, metres.lengthMm])).toEqual([['failed', 1], ['missing', 1_999], ['suspect', 4_000], ['confirmed', 4_000]]);
    // Down to the record.
    const od = answer.items.find(({ code }) => code === 'OD-1');
    const [failing] = od?.stretches.filter(({ state }) => state === 'failed') ?? [];
    expect(od?.testimonies[failing?.by[0] ?? -1]).toMatchObject({ says: 'failed', because: 'outside diameter 127.1 mm: rejected', records: [{ kind: 'inspection', label: 'dimensional: outside diameter' }] });
  });

  test('follows each record at once, and answers as known before it', async () => {
    await planned([item('OD-1', 'dimension', { characteristic: 'outside diameter', reachMm: 2_000 })]);
    const first = await measured(2_000, 'accepted');
    const [row]: { now: string }[] = await api().dataSource.query("select to_char(clock_timestamp() at time zone 'UTC', 'YYYY-MM-DD\"T\"HH24:MI:SS.US\"Z\"') as now");
    expect(line(await evidence(), 'OD-1')).toBe('confirmed 0-4001, missing 4001-10000');
    const second = await measured(8_000, 'accepted');
    expect(line(await evidence(), 'OD-1')).toBe('confirmed 0-4001, missing 4001-6000, confirmed 6000-10000');
    expect(await withdraw('inspections', first, 1)).toMatchObject({ status: 200 });
    expect(line(await evidence(), 'OD-1')).toBe('missing 0-6000, confirmed 6000-10000');
    expect(await amend('inspections', second, 1, { verdict: 'for-evaluation' })).toMatchObject({ status: 200 });
    expect(line(await evidence(), 'OD-1')).toBe('missing 0-6000, suspect 6000-10000');
    expect(line(await evidence(`?asKnownAt=${row?.now ?? ''}`), 'OD-1')).toBe('confirmed 0-4001, missing 4001-10000');
    await counted('11:00', 12_000);
    expect(line(await evidence(), 'OD-1')).toBe('missing 0-6000, suspect 6000-10001, missing 10001-12000');
  });

  test('of a splice follows each look at what was repaired there, whatever it is recorded as', async () => {
    await planned([item('SP-1', 'splice-accepted', { at: 'splices', marginMm: 0 })]);
    await splicesFrom(engineer(), stringId(), 3_000);
    const place = { from: { footageMm: 3_020 }, to: { footageMm: 3_060 } };
    await made('repairs', {
      stringId: stringId(), observedAt: at('07:00'), ...place, method: 'grinding', found: 'Scratch', depthRemovedMm: '0.35', remainingWallMm: '4.62', wallLimitMm: '4.50', readings: [], chosen: [], photoSha256s: [],
    });
    const because = async (): Promise<string> => (await evidence()).items[0]?.testimonies[0]?.because ?? '';
    expect(await because()).toContain('not looked at for flaws since');
    const seen = await made('inspections', { stringId: stringId(), observedAt: at('08:00'), ...place, kind: 'visual', characteristic: 'surface', verdict: 'accepted' });
    expect(await because()).not.toContain('not looked at for flaws since');
    expect(await withdraw('inspections', seen, 1)).toMatchObject({ status: 200 });
    expect(await because()).toContain('not looked at for flaws since');
  });

  test('has rules of its own at joints and ends, and says where an item is not required', async () => {
    await planned([
      item('VT-LEAD', 'dimension', { at: 'lead-end', marginMm: 500, characteristic: 'lead end', reachMm: 10 }),
      item('OD-1', 'dimension', { characteristic: 'outside diameter', reachMm: 2_000, exceptAt: [{ at: 'lead-end', marginMm: 500 }] }),
    ]);
    const answer = await evidence();
    expect(line(answer, 'VT-LEAD')).toBe('missing 0-500, not-required 500-10000');
    expect(line(answer, 'OD-1')).toBe('not-required 0-500, missing 500-10000');
    await measured(1_000, 'accepted');
    expect(line(await evidence(), 'OD-1')).toBe('not-required 0-500, confirmed 500-3001, missing 3001-10000');
  });

  test('is judged by the plan that holds for the footage', async () => {
    await planned([item('OD-1', 'dimension', { characteristic: 'outside diameter', reachMm: 20_000 })]);
    await planned([item('OD-1', 'dimension', { characteristic: 'outside diameter', reachMm: 100 })], { fromMm: 6_000, revision: '2' });
    await measured(2_000, 'accepted');
    const { items } = await evidence();
    expect(items.map(({ stretches }) => told(stretches))).toEqual(['confirmed 0-6000', 'missing 6000-10000']);
  });

  test('waived counts as conceded where nothing else stands, and not for what was found later', async () => {
    await planned([item('OD-1', 'dimension', { characteristic: 'outside diameter', reachMm: 100 })]);
    await made('evidence-waivers', { stringId: stringId(), observedAt: at('09:30'), from: { footageMm: 1_000 }, to: { footageMm: 4_000 }, itemCode: 'OD-1', basis: 'waiver', agreedBy: 'Purchaser', agreement: 'Letter 12', grounds: 'Gauge under repair', nonconformanceId: null });
    expect(line(await evidence(), 'OD-1')).toBe('missing 0-1000, conceded 1000-4000, missing 4000-10000');
    await measured(2_000, 'accepted');
    await measured(3_000, 'rejected');
    expect(line(await evidence(), 'OD-1')).toBe(
      'missing 0-1000, conceded 1000-1900, confirmed 1900-2101, conceded 2101-2900, suspect 2900-3000, failed 3000-3001, suspect 3001-3101, conceded 3101-4000, missing 4000-10000',
    );
  });

  test('is waived no more where a record that was there already was amended since to speak against it', async () => {
    await planned([item('OD-1', 'dimension', { characteristic: 'outside diameter', reachMm: 100 })]);
    const inspection = await measured(2_000, 'accepted');
    await made('evidence-waivers', { stringId: stringId(), observedAt: at('09:30'), from: { footageMm: 1_000 }, to: { footageMm: 4_000 }, itemCode: 'OD-1', basis: 'waiver', agreedBy: 'Purchaser', agreement: 'Letter 12', grounds: 'Gauge under repair', nonconformanceId: null });
    expect(await amend('inspections', inspection, 1, { verdict: 'rejected' })).toMatchObject({ status: 200 });
    expect(line(await evidence(), 'OD-1')).toBe('missing 0-1000, conceded 1000-1900, suspect 1900-2000, failed 2000-2001, suspect 2001-2101, conceded 2101-4000, missing 4000-10000');
  });

  test('keeps a concession on one nonconformance, whatever was made good of another', async () => {
    await planned([item('NC-1', 'nonconformances-closed')]);
    const closed = async (fromMm: number, toMm: number, kind: string): Promise<string> => made('nonconformances', {
      stringId: stringId(), observedAt: at('10:20'), title: 'Mark', severity: 'minor', origin: 'line', extents: [{ from: { footageMm: fromMm }, to: { footageMm: toMm } }], extentBasis: 'measured',
      requirement: { document: 'Plan', revision: '1', clause: '4', limit: 'no mark' }, found: { text: 'Mark', method: 'seen', instrument: 'eye', at: at('10:20'), by: inspector.personId },
      stage: 'closed', disposition: { kind, text: 'Looked at', approvedBy: engineer().personId, approvedAt: at('10:40') },
    });
    await closed(2_000, 5_000, 'use-as-is-under-concession');
    await closed(1_000, 3_000, 'rework');
    expect(line(await evidence(), 'NC-1')).toBe('confirmed 0-1000, confirmed 1000-2000, conceded 2000-5000, confirmed 5000-10000');
  });

  test('holds fail whatever stands for the pipe, until they are lifted', async () => {
    await planned([item('NC-1', 'nonconformances-closed')]);
    const holdId = await made('holds', { stringId: stringId(), observedAt: at('09:30'), cause: 'Odd sound at the squeeze rolls', intervals: [{ from: { footageMm: 3_000 }, to: { footageMm: 4_000 } }], coilIds: [], spliceIds: [] });
    const held = await evidence();
    expect(told(held.verdict)).toBe('confirmed 0-3000, failed 3000-4000, confirmed 4000-10000');
    expect(held.verdict[1]?.items).toEqual(['hold']);
    await made('hold-liftings', { stringId: stringId(), observedAt: at('09:50'), holdId, grounds: 'Bearing of a roll; pipe seen', evidence: 'Visual inspection', ownHoldBecause: 'Alone on shift' });
    expect(told((await evidence()).verdict)).toBe('confirmed 0-10000');
  });

  test('holds of a coil fail its pipe on every string that it went into, until they are lifted', async () => {
    await planned([item('NC-1', 'nonconformances-closed')]);
    const heatId = await made('heats', { observedAt: at('05:00'), number: `H-${stringId().slice(-8)}`, grade: 'S420MC' });
    const coilId = await made('coils', { observedAt: at('05:00'), number: `C-${stringId().slice(-8)}`, heatId, widthMm: '400.0', thicknessMm: '5.00', massKg: '7850', lengthMm: 500_000 });
    await permitted(engineer(), coilId);
    await made('coil-segments', { observedAt: at('06:10'), stringId: stringId(), coilId, from: { footageMm: 2_000 }, to: { footageMm: 5_000 }, stripFromMm: 100_000, stripToMm: 103_000, runs: 'head-first' });
    const wellId = await made('wells', { observedAt: at('05:00'), name: `Lindmoor ${stringId().slice(-8)}`, datum: 'Guide frame' });
    const otherId = await made('casing-strings', {
      wellId, name: 'Earlier string', footageLimitMm: 4_000_000, outsideDiameterMm: '127.0', wallThicknessMm: '5.00', lengthRatio: '0.985', lengthRatioU: '0.004', observedAt: at('05:10'),
    });
    expect(told((await evidence()).verdict)).toBe('confirmed 0-10000');
    const holdId = await made('holds', { stringId: otherId, observedAt: at('09:30'), cause: 'Laminations in the rest of the coil', intervals: [], coilIds: [coilId], spliceIds: [] });
    expect(told((await evidence()).verdict)).toBe('confirmed 0-2000, failed 2000-5000, confirmed 5000-10000');
    await made('hold-liftings', { stringId: otherId, observedAt: at('09:50'), holdId, grounds: 'Cut open: none', evidence: 'Report 4', ownHoldBecause: 'Alone on shift' });
    expect(told((await evidence()).verdict)).toBe('confirmed 0-10000');
  });

  test('is told by depth of both walls, and asked by depth', async () => {
    await planned([item('OD-1', 'dimension', { characteristic: 'outside diameter', reachMm: 2_000 })]);
    await made('hang-offs', hangOff());
    await counted('17:00', 200_000);
    await made('shoe-ties', tie());
    await measured(50_000, 'accepted');
    const all = await evidence();
    expect(all.walls.map(({ wall }) => wall)).toEqual(['outer', 'inner']);
    const deep = await evidence('?by=md&fromM=40&toM=50');
    expect(deep.walls.every(({ stretches }) => stretches.length > 0 && stretches.every(({ mdFromMm, mdToMm }) => Number(mdFromMm) >= 39_999 && Number(mdToMm) <= 50_001))).toBe(true);
    const onOuter = deep.walls[0]?.stretches.map(({ pipe }) => (pipe as Fields)['state']);
    expect(onOuter).toContain('confirmed');
    expect(new Set(deep.walls[1]?.stretches.map(({ pipe }) => (pipe as Fields)['state']))).toEqual(new Set(['missing']));
  });

  test('is late where it was entered after the pipe had passed the hang-off', async () => {
    await planned([item('OD-1', 'dimension', { characteristic: 'outside diameter', reachMm: 100_000 })]);
    await made('hang-offs', hangOff());
    await counted('17:00', 200_000);
    await measured(150_000, 'accepted');
    // Everything is entered long after the story's day: what had passed the hang-off by its last reading is late, what is on the line is not.
    const [, passed] = /^missing 0-50000, confirmed 50000-(\d+) late, confirmed \1-200000$/.exec(line(await evidence(), 'OD-1')) ?? [];
    expect(Number(passed)).toBe(200_000 - 18_000);
  });

  test('refuses what cannot be asked, naming it', async () => {
    const bad = await engineer().send('GET', `/api/casing-strings/${stringId()}/evidence?by=tvd&fromM=5&toM=5&color=red`);
    expect(bad.status).toBe(400);
    expect(fieldsRefused(bad)).toEqual(['color', 'by', 'toM']);
    expect((await engineer().send('GET', '/api/casing-strings/01900000-0000-7000-8000-000000000000/evidence')).status).toBe(404);
  });
});
