import { beforeEach, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { fieldsRefused, lineFactory, type Fields } from './line.factory.js';
import { channel, inspectionRun, openUpload, range, sendPart, upload } from './signals.factory.js';

const { api, engineer, stringId, post, made, amend, withdraw, period, setup } = lineFactory();

/** Seconds are written where the story needs them. */
const at = (clock: string): string => `2026-03-02T${clock.length === 5 ? `${clock}:00` : clock}.000000Z`;

let standardId: string;
let seam: string;
let runId: string;
let uploadId: string;

const amplitude = (name: string, changes: Fields = {}): Fields => channel(stringId(), name, {
  measures: 'eddy-current-amplitude', unit: '%', method: 'ET', zone: 'seam', threshold: { sense: 'above', level: '60' }, plausible: { from: null, to: null }, checkGraceMinutes: 10, ...changes,
});

beforeEach(async () => {
  await made('counter-periods', period());
  standardId = await made('instruments', { observedAt: at('05:00'), number: `RS-${stringId().slice(-8)}`, kind: 'reference-standard', name: 'Notched tube', measures: ['notch'], unit: 'mm' });
  seam = await made('channels', amplitude('ET-seam-1'));
  runId = await made('inspection-runs', inspectionRun(stringId(), [seam], { standardId }));
  uploadId = await openUpload(post, upload(runId, [{ column: 'seam', channelId: seam }]));
});

interface Part { readonly run?: string; readonly column?: string; readonly direction?: 'forward' | 'backward'; readonly missing?: readonly number[] }

/** Samples of pipe, one a millimetre, read evenly between two instants. */
async function inspected(partNo: number, [fromMm, toMm]: readonly [number, number], [first, last]: readonly [string, string], { run = uploadId, column = 'seam', direction = 'forward', missing = [] }: Part = {}): Promise<void> {
  const forward = range(fromMm, toMm);
  const counter = direction === 'forward' ? forward : forward.reverse();
  const values = { [column]: counter.map((mm) => (missing.includes(mm) ? -999 : 10 + (mm % 5))) };
  expect(await sendPart(engineer().send, run, partNo, { counter, values, firstAt: at(first), lastAt: at(last), direction })).toMatchObject({ status: 200 });
}

async function checked(clock: string, showed: string, changes: Fields = {}): Promise<string> {
  return made('reference-checks', {
    stringId: stringId(), observedAt: at(clock), from: { footageMm: 0 }, runId, standardId, mode: 'dynamic', occasion: 'interval',
    results: [{ channelId: seam, reflector: 'N10 outside', size: '0.50 mm deep', amplitude: showed, threshold: '60', sense: 'above' }], ...changes,
  });
}

interface Proof {
  readonly pipe: { readonly lengthMm: number };
  readonly channels: readonly (Fields & { readonly states: readonly State[]; readonly stretches: readonly Fields[]; readonly unmet: readonly Fields[] })[];
  readonly together: (Fields & { readonly states: readonly State[]; readonly depths: readonly { readonly walls: readonly Fields[] }[] }) | null;
  readonly failedChecks: readonly (Fields & { readonly proposals: readonly Fields[]; readonly nonconformances: readonly Fields[] })[];
  readonly cautions: readonly string[];
}
interface State { readonly state: string; readonly metres: { readonly lengthMm: number; readonly intervals: readonly { readonly fromMm: number; readonly toMm: number }[] } }

async function proof(query = ''): Promise<Proof> {
  const answer = await engineer().send<Proof>('GET', `/api/casing-strings/${stringId()}/inspection-proof${query}`);
  expect(answer.status).toBe(200);
  return answer.body;
}

/** `confirmed 0-5000`, state by state; those without metres left out. */
const said = (states: readonly State[] | undefined): string =>
  (states ?? []).filter(({ metres }) => metres.intervals.length > 0).map(({ state, metres }) => `${state} ${metres.intervals.map(({ fromMm, toMm }) => `${fromMm}-${toMm}`).join(' ')}`).join(', ');
const states = async (query = ''): Promise<string> => said((await proof(query)).channels[0]?.states);
const unmet = async (): Promise<unknown[]> => ((await proof()).channels[0]?.unmet ?? []).map(({ occasion, state, due }) => [occasion, state, String(due).slice(11, 16)]);
const knownNow = async (): Promise<string> => {
  const [row]: { now: string }[] = await api().dataSource.query("select to_char(clock_timestamp() at time zone 'UTC', 'YYYY-MM-DD\"T\"HH24:MI:SS.US\"Z\"') as now");
  return row?.now ?? '';
};

/** Start check good, pipe, interval check good, pipe: the end check is each story's own. */
async function inspectedUpToTheEnd(): Promise<void> {
  await checked('06:05', '74.5', { occasion: 'start' });
  await inspected(1, [0, 5_000], ['06:10', '08:00']);
  await checked('08:05', '73');
  await inspected(2, [5_000, 9_000], ['08:10', '10:00']);
}

describe('what reference checks prove', () => {
  test('pipe is suspect before any check, provisional after a good one, confirmed between two, suspect back from one that failed', async () => {
    expect(await states()).toBe('');
    expect((await proof()).cautions[0]).toContain('No pipe of this string is on record');
    await inspected(1, [0, 5_000], ['06:10', '08:00']);
    expect(await states()).toBe('suspect 0-5000');
    await checked('06:05', '74.5', { occasion: 'start' });
    expect(await states()).toBe('provisional 0-5000');
    await checked('08:05', '73');
    expect(await states()).toBe('confirmed 0-5000');
    await inspected(2, [5_000, 9_000], ['08:10', '10:00']);
    expect(await states()).toBe('confirmed 0-5000, provisional 5000-9000');
    await checked('10:05', '41', { occasion: 'end' });
    expect(await states()).toBe('confirmed 0-5000, suspect 5000-9000');
  });

  test('a failed check proposes a nonconformance with just that pipe, and posting it puts it on record', async () => {
    await inspectedUpToTheEnd();
    const checkId = await checked('10:05', '41', { occasion: 'end', action: 'Probe changed' });
    const { failedChecks: [failed, ...others] } = await proof();
    expect(others).toEqual([]);
    expect(failed).toMatchObject({
      check: { kind: 'reference-check', id: checkId }, side: 'before', channels: [{ id: seam, label: 'ET-seam-1' }], nonconformances: [],
      footage: { lengthMm: 4_000, intervals: [{ fromMm: 5_000, toMm: 9_000 }] },
    });
    expect(failed?.proposals).toHaveLength(1);
    const entered = await post('nonconformances', failed?.proposals[0] as Fields);
    expect(entered).toMatchObject({
      status: 201, body: { stringId: stringId(), footage: [{ fromMm: 5_000, toMm: 9_000 }], stage: 'draft', extentBasis: 'bracketed', containment: { action: 'Probe changed' }, found: { by: engineer().personId } },
    });
    expect((await proof()).failedChecks[0]?.nonconformances).toMatchObject([{ kind: 'nonconformance', id: entered.body['id'] }]);
    // The check was made on a standard that was dirty: what it put in doubt it does no more.
    await amend('reference-checks', checkId, 1, { voidReason: 'Standard was dirty' });
    expect(await states()).toBe('confirmed 0-5000, provisional 5000-9000');
    expect((await proof()).failedChecks).toEqual([]);
  });

  test('a check that is entered late changes the answer, and what was known before stays what it was', async () => {
    await inspectedUpToTheEnd();
    await checked('10:05', '72', { occasion: 'end' });
    const before = await knownNow();
    expect(await states()).toBe('confirmed 0-9000');
    // Observed in the middle of the second part, entered after all others.
    const late = await checked('09:05', '41');
    expect(await states()).toBe('confirmed 0-5000, suspect 5000-9000');
    const { failedChecks } = await proof();
    expect(failedChecks.map(({ side, check, proposals }) => [side, (check as Fields)['id'], (proposals[0]?.['extents'] as unknown[])])).toEqual([
      ['before', late, [{ from: { footageMm: 5_000 }, to: { footageMm: 7_000 } }]], ['after', late, [{ from: { footageMm: 7_000 }, to: { footageMm: 9_000 } }]],
    ]);
    expect(await states(`?asKnownAt=${before}`)).toBe('confirmed 0-9000');
    expect(await withdraw('reference-checks', late, 1)).toMatchObject({ status: 200 });
    expect(await states()).toBe('confirmed 0-9000');
  });

  test('the order in which everything comes in plays no part', async () => {
    await checked('10:05', '41', { occasion: 'end' });
    await inspected(2, [5_000, 9_000], ['08:10', '10:00']);
    await checked('08:05', '73');
    await inspected(1, [0, 5_000], ['06:10', '08:00']);
    await checked('06:05', '74.5', { occasion: 'start' });
    expect(await states()).toBe('confirmed 0-5000, suspect 5000-9000');
  });

  test('each stretch names the look that counts, its run and the checks around it', async () => {
    await inspectedUpToTheEnd();
    const [one] = (await proof()).channels;
    expect(one?.stretches).toMatchObject([
      { fromMm: 0, toMm: 5_000, state: 'confirmed', counts: { run: { kind: 'inspection-run', id: runId }, because: 'passed-before-and-after', before: [{ at: at('06:05'), outcome: 'passed' }], after: [{ at: at('08:05') }] }, others: [] },
      { fromMm: 5_000, toMm: 9_000, state: 'provisional', counts: { because: 'none-after', before: [{ at: at('08:05') }], after: [] } },
    ]);
    expect(one).toMatchObject({ repeats: 'best', rule: { everyMinutes: 240, graceMinutes: 10, source: expect.stringContaining('from memory') } });
    expect(one?.['words']).toBe(
      'No indication of ET-seam-1 means none at or above 60 %, checked with N10 outside (0.50 mm deep), on the metres that are confirmed here. It does not mean that there is no defect.',
    );
  });

  test('pipe read twice has the better proven look, or the latest, as the channel says', async () => {
    await inspectedUpToTheEnd();
    await checked('10:05', '41', { occasion: 'end' });
    await inspected(3, [7_000, 9_000], ['10:30', '11:00'], { direction: 'backward' });
    await checked('10:20', '72');
    expect(await states()).toBe('confirmed 0-5000, provisional 7000-9000, suspect 5000-7000');
    await inspected(4, [0, 1_000], ['11:10', '11:20']);
    await checked('11:30', '30');
    expect(await states()).toBe('confirmed 0-5000, suspect 5000-9000');
    expect((await proof()).channels[0]?.stretches[0]).toMatchObject({ fromMm: 0, toMm: 1_000, state: 'confirmed', others: [{ state: 'suspect', because: 'failed-after' }] });
    await amend('channels', seam, 1, { repeats: 'latest' });
    expect(await states()).toBe('confirmed 1000-5000, suspect 0-1000 5000-9000');
  });

  test('what a run did not read going forward is proven by its way back alone, and by the checks around that', async () => {
    await checked('06:05', '74.5');
    await inspected(1, [0, 5_000], ['06:10', '08:00'], { missing: range(2_000, 2_050) });
    await checked('08:05', '73');
    await inspected(2, [1_000, 5_000], ['08:10', '09:00'], { direction: 'backward' });
    await checked('09:05', '41');
    expect(await states()).toBe('confirmed 0-2000 2050-5000, suspect 2000-2050');
  });

  test('pipe that was not read, is marked as not valid, or was not reached is missing; what was cut out is not told of', async () => {
    await checked('06:05', '74.5');
    await inspected(1, [0, 5_000], ['06:10', '08:00'], { missing: range(2_000, 2_050) });
    await checked('08:05', '73');
    expect(await states()).toBe('confirmed 0-2000 2050-5000, missing 2000-2050');
    const mark = (fromMm: number, changes: Fields = {}): Fields => ({
      stringId: stringId(), observedAt: at('07:00'), from: { footageMm: fromMm }, to: { footageMm: fromMm + 100 }, runId, channelIds: [seam], effect: 'not-valid', cause: 'probe-lifted', ...changes,
    });
    const markId = await made('signal-marks', mark(3_000));
    await made('signal-marks', mark(4_000, { effect: 'excluded', cause: 'splice' }));
    expect(await states()).toBe('confirmed 0-2000 2050-3000 3100-5000, missing 2000-2050 3000-3100');
    await withdraw('signal-marks', markId, 1);
    await made('counter-readings', { stringId: stringId(), observedAt: at('08:30'), reading: '6000' });
    expect(await states()).toBe('confirmed 0-2000 2050-5000, missing 2000-2050 5000-6000');
    await made('cut-outs', { stringId: stringId(), observedAt: at('09:00'), from: { footageMm: 1_000 }, to: { footageMm: 1_500 }, cause: 'Seam defect' });
    expect(await states()).toBe('confirmed 0-1000 1500-2000 2050-5000, missing 2000-2050 5000-6000');
    expect(await states('?fromMm=1400&toMm=2020')).toBe('confirmed 1500-2000, missing 2000-2020');
    expect(await states('?fromMm=5500')).toBe('missing 5500-6000');
    const beyond = await proof('?fromMm=5900&toMm=7000');
    expect([said(beyond.channels[0]?.states), beyond.cautions[0]]).toEqual(['missing 5900-7000', expect.stringContaining('1000 mm are on no record as pipe')]);
  });
});

describe('occasions', () => {
  test('are unmet at the start, after four hours, at a change of operator or set-up, and at the end', async () => {
    await inspected(1, [0, 5_000], ['06:10', '11:10']);
    expect(await unmet()).toEqual([['start', 'missing', '06:10'], ['interval', 'missing', '10:10']]);
    await checked('06:05', '74.5', { occasion: 'start' });
    expect(await unmet()).toEqual([['interval', 'missing', '10:05']]);
    await checked('10:30', '73');
    expect(await unmet()).toEqual([['interval', 'late', '10:05'], ['interval', 'missing', '14:30']]);
    await amend('inspection-runs', runId, 1, { endedAt: at('11:15'), endReason: 'Change of operator' });
    expect(await unmet()).toEqual([['interval', 'late', '10:05'], ['end', 'missing', '11:20']]);
    const mate = await api().signIn('qc-inspector');
    const next = await made('inspection-runs', inspectionRun(stringId(), [seam], { standardId, observedAt: at('11:30'), doneBy: mate.personId }));
    const nextUpload = await openUpload(post, upload(next, [{ column: 'seam', channelId: seam }]));
    await inspected(1, [5_000, 6_000], ['11:40', '12:00'], { run: nextUpload });
    expect(await unmet()).toEqual([
      ['interval', 'late', '10:05'], ['end', 'missing', '11:20'], ['operator-change', 'missing', '11:40'], ['start', 'missing', '11:40'], ['interval', 'missing', '15:40'],
    ]);
    await checked('11:35', '73', { runId: next, occasion: 'operator-change' });
    expect(await unmet()).toEqual([['interval', 'late', '10:05'], ['end', 'late', '11:20'], ['interval', 'missing', '15:35']]);
    await made('line-setups', setup({ observedAt: at('11:50') }));
    const { channels: [one] } = await proof();
    expect(one?.unmet[2]).toMatchObject({ occasion: 'set-up-change', state: 'missing', due: at('12:00'), run: { id: next }, shownBy: { kind: 'line-setup' }, check: null });
  });
});

describe('several channels', () => {
  test('together are as the worst of the required ones; one that is not required is asked about by its id', async () => {
    const other = await made('channels', amplitude('ET-seam-2'));
    const aside = await made('channels', amplitude('ET-body-1', { required: false }));
    await amend('inspection-runs', runId, 1, { channelIds: [seam, other, aside] });
    const both = await openUpload(post, upload(runId, [{ column: 'other', channelId: other }]));
    await inspected(1, [0, 5_000], ['06:10', '08:00']);
    await inspected(1, [0, 4_000], ['06:10', '08:00'], { run: both, column: 'other' });
    const results = (showed: string, ...ids: string[]): Fields => ({ results: ids.map((channelId) => ({ channelId, reflector: 'N10 outside', amplitude: showed, threshold: '60', sense: 'above' })) });
    await checked('06:05', '', results('70', seam, other));
    await checked('08:05', '', results('70', seam));
    const { channels, together } = await proof();
    expect(channels.map(({ channel: link, states: own }) => [(link as Fields)['label'], said(own)])).toEqual([
      ['ET-seam-1', 'confirmed 0-5000'], ['ET-seam-2', 'provisional 0-4000, missing 4000-5000'],
    ]);
    expect(said(together?.states)).toBe('provisional 0-4000, missing 4000-5000');
    expect(together?.['notLocated']).toMatchObject({ code: 'no-readings' });
    expect(await states(`?channelId=${aside}`)).toBe('');
    expect(said((await proof(`?channelId=${aside}&toMm=100`)).channels[0]?.states)).toBe('missing 0-100');
  });

  test('none that is required is told, and is no clean answer', async () => {
    await inspected(1, [0, 1_000], ['06:10', '06:20']);
    await amend('channels', seam, 1, { required: false });
    expect(await proof()).toMatchObject({ channels: [], together: null, cautions: expect.arrayContaining([expect.stringContaining('No channel of this string is required')]) });
  });
});

describe('pipe that hangs in the well', () => {
  test('is told by depth on both walls, state by state', async () => {
    await made('line-setups', setup());
    await checked('06:05', '74.5');
    await inspected(1, [0, 40_000], ['06:10', '08:00']);
    await checked('08:05', '73');
    await made('hang-offs', { stringId: stringId(), observedAt: at('09:00'), from: { footageMm: 4_000 }, mdMm: 1_200, mdUMm: '2' });
    for (const [clock, reading] of [['06:10', '0'], ['09:00', '22000'], ['12:00', '60000']] as const) {
      await made('counter-readings', { stringId: stringId(), observedAt: at(clock), reading });
    }
    const { together } = await proof();
    expect(said(together?.states)).toBe('confirmed 0-40000, missing 40000-60000');
    expect(together?.['notLocated']).toBeNull();
    const walls = (index: number): unknown[] => (together?.depths[index]?.walls ?? []).map(({ wall, nominal }) => [wall, (nominal as unknown[]).length > 0]);
    expect([walls(0), walls(2)]).toEqual([[['outer', true], ['inner', true]], [['outer', false], ['inner', false]]]);
  });
});

test('a question that cannot be is refused field by field; a channel of another string is not found', async () => {
  const ask = (query: string) => engineer().send('GET', `/api/casing-strings/${stringId()}/inspection-proof?${query}`);
  expect(fieldsRefused(await ask('channelId=ET&fromMm=-1&toMm=1.5&asKnownAt=noon&by=depth'))).toEqual(['by', 'channelId', 'fromMm', 'toMm', 'asKnownAt']);
  expect(await ask(`channelId=${uuidv7()}`)).toMatchObject({ status: 404 });
  expect(await engineer().send('GET', `/api/casing-strings/${uuidv7()}/inspection-proof`)).toMatchObject({ status: 404 });
});

test('samples that no counter period places are told, and inspected nothing', async () => {
  const early = await made('inspection-runs', inspectionRun(stringId(), [seam], { observedAt: '2026-03-01T06:00:00Z', endedAt: '2026-03-01T07:00:00Z' }));
  const earlyUpload = await openUpload(post, upload(early, [{ column: 'seam', channelId: seam }]));
  expect(await sendPart(engineer().send, earlyUpload, 1, { counter: range(0, 500), values: { seam: range(0, 500) }, firstAt: '2026-03-01T06:10:00Z', lastAt: '2026-03-01T06:11:00Z' })).toMatchObject({ status: 200 });
  expect((await proof()).channels[0]).toMatchObject({ unplaced: [{ run: { id: early }, samples: 500, because: 'no-counter-period' }] });
  expect(await states()).toBe('');
});
