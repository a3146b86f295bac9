import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import type { InstrumentDoubtAnswer } from '../../apps/api/src/instrument-standing/instrument-standing.dto.js';
import type { RecallAnswer, SetsAnswer } from '../../apps/api/src/recall/recall.dto.js';
import type { ShiftLogAnswer } from '../../apps/api/src/shift-log/shift-log.dto.js';
import { StoryClock } from '../../seed-demo/story-clock.js';
import { startTestApi, type SignedIn, type TestApi } from '../setup/api.js';
import { StringBench, type Fields } from '../setup/string-bench.js';
import { buildString, entered } from '../setup/string-builder.js';
import { walkedMetres, type WalkedMetres } from './metres.reference.js';
import { GAUGE_FOUND_OUT_AT, GAUGE_GOOD_AT, NIGHT, NIGHT_STRING, SHIFT, TIME_ZONE, WELDER_UNTIL, type NightEntry, type Who } from './night-shift.story.js';

/**
 * A night shift of thirty entries, each entered when it happened but for two that were keyed from paper in the morning; a
 * qualification lapses at midnight, and a gauge is found out a week later. What follows is held against the story itself.
 */
const clock = new StoryClock();
const BEFORE = '2026-01-02T08:00:00Z';
const MORNING = '2026-03-03T09:00:00Z';
const PEOPLE: readonly Who[] = ['lead', 'welder', 'relief', 'inspector', 'keyer', 'dayLead'];

let api: TestApi;
let engineer: SignedIn;
let stringId: string;
const people = new Map<Who, SignedIn>();
const ids = new Map<string, string>();

const idOf = (key: string): string => {
  const id = ids.get(key);
  if (id === undefined) throw new Error(`nothing was entered under ${key}`);
  return id;
};
const resolved = (value: unknown): unknown => {
  if (typeof value === 'string' && value.startsWith('@')) return idOf(value.slice(1));
  if (Array.isArray(value)) return value.map(resolved);
  return typeof value === 'object' && value !== null ? Object.fromEntries(Object.entries(value).map(([name, part]) => [name, resolved(part)])) : value;
};
const minutesLater = (instant: string, minutes: number): string => new Date(Date.parse(instant) + minutes * 60_000).toISOString();
/** Most are entered two minutes after they happened. */
const enteredAt = ({ observedAt, keyed }: NightEntry): string => keyed?.at ?? minutesLater(observedAt, 2);

async function enter({ key, path, by, keyed, observedAt, body }: NightEntry): Promise<void> {
  const doneBy = people.get(by)!;
  const keyer = keyed === undefined ? doneBy : people.get(keyed.by)!;
  ids.set(key, await entered(keyer, path, { observedAt, stringId, doneBy: doneBy.personId, ...(resolved(body) as Fields) }));
}

async function set(key: string, path: string, body: Fields): Promise<void> {
  ids.set(key, await entered(engineer, path, { observedAt: BEFORE, ...body }));
}

async function calibrated(key: string, observedAt: string, deviation: string): Promise<void> {
  clock.set(minutesLater(observedAt, 5));
  await set(key, 'calibrations', {
    observedAt, instrumentId: idOf('gauge'), certificateNumber: key, laboratory: 'Measuring room', decisionRule: 'simple-acceptance', dueOn: '2026-06-30',
    asFound: [{ point: '5.00 mm', deviation, min: '-0.010', max: '0.010', unit: 'mm' }], ...(deviation === '0.050' ? { asLeft: [{ point: '5.00 mm', deviation: '0.001', min: '-0.010', max: '0.010', unit: 'mm' }] } : {}),
  });
}

beforeAll(async () => {
  clock.set(BEFORE);
  api = await startTestApi({}, clock);
  const bench = await StringBench.on(api);
  engineer = bench.who;
  for (const who of PEOPLE) {
    const person = await api.signIn('qc-inspector');
    people.set(who, person);
    ids.set(who, person.personId);
  }
  const built = await buildString(engineer, NIGHT_STRING);
  stringId = built.stringId;
  await engineer.send('PATCH', `/api/wells/${built.wellId}`, { body: { reason: 'Its time.', timeZone: TIME_ZONE }, headers: { 'if-match': '"1"' } });
  ids.set('coil 1', await bench.coil());
  ids.set('coil 2', await bench.coil());
  for (const number of ['gauge', 'monitor']) await set(number, 'instruments', { number, kind: 'gauge', name: number, measures: ['thickness'], unit: 'mm' });
  const procedure = { revision: 1, title: 'Tried', effectiveFrom: '2025-01-01', lists: [], test: { number: 'PQR-1', standard: 'ISO 15614-1', testedOn: '2024-12-01', examiner: 'Body' } };
  await set('splice procedure', 'weld-procedures', { ...procedure, number: 'WP-1', purpose: 'splice', process: '135', ranges: [{ variable: 'current', min: '160', max: '200', unit: 'A' }] });
  await set('seam procedure', 'weld-procedures', { ...procedure, number: 'WP-2', purpose: 'seam', process: '74', ranges: [{ variable: 'power', min: '160', max: '200', unit: 'kW' }] });
  const qualification = { standard: 'ISO 9606-1', subject: 'welding', methods: ['135'], scope: [], startsOn: '2025-03-03', authorisationNeeded: false, examiner: 'Body' };
  await set('welder qualification', 'qualifications', { ...qualification, number: 'W-1', personId: idOf('welder'), expiresOn: WELDER_UNTIL });
  await set('relief qualification', 'qualifications', { ...qualification, number: 'W-2', personId: idOf('relief'), expiresOn: '2027-03-02' });
  await calibrated('first calibration', '2026-01-05T08:00:00Z', '0.002');
  await played();
}, 120_000);
afterAll(() => api.close());

/** What was entered, in the order of its entry; between, the gauge is looked at, and in the morning the handover accepted. */
async function played(): Promise<void> {
  const steps = [
    ...NIGHT.map((entry) => ({ at: enteredAt(entry), take: () => enter(entry) })),
    { at: minutesLater(GAUGE_GOOD_AT, 5), take: () => calibrated('good calibration', GAUGE_GOOD_AT, '0.001') },
    { at: minutesLater(SHIFT.until, 1), take: endShift },
    { at: minutesLater(SHIFT.until, 8), take: acceptHandover },
  ];
  for (const { at, take } of steps.sort((one, other) => Date.parse(one.at) - Date.parse(other.at))) {
    clock.set(at);
    await take();
  }
}

async function endShift(): Promise<void> {
  const { status } = await people.get('lead')!.send('PATCH', `/api/shifts/${idOf('shift')}`, { body: { reason: 'It ended.', until: SHIFT.until }, headers: { 'if-match': '"1"' } });
  expect(status).toBe(200);
}

async function acceptHandover(): Promise<void> {
  ids.set('acceptance', await entered(people.get('dayLead')!, 'handover-acceptances', {
    stringId, observedAt: minutesLater(SHIFT.until, 6), handoverId: idOf('handover'), handoverVersion: 1, items: [{ item: 1, accepted: true }, { item: 2, accepted: false, words: 'Not said until when' }],
  }));
}

const keyOf = (id: string): string => [...ids].find(([, one]) => one === id)?.[0] ?? id;
const recalled = async (query: string): Promise<RecallAnswer> => {
  const { status, body } = await engineer.send<RecallAnswer>('GET', `/api/recall?${query}`);
  expect(status).toBe(200);
  return body;
};
const concerned = ({ strings }: RecallAnswer): string[] => strings.flatMap((one) => one.concerned.map(({ record }) => keyOf(record.id))).sort();
const pairs = (sets: SetsAnswer | undefined): (readonly [number, number])[] => (sets?.nominal ?? []).map(({ fromMm, toMm }) => [fromMm, toMm]);
function metresOf({ strings: [string] }: RecallAnswer): WalkedMetres {
  const wall = (name: 'outer' | 'inner'): (readonly [number, number])[] => pairs(string?.walls.find((one) => one.wall === name));
  return { footage: pairs(string?.footage), outer: wall('outer'), inner: wall('inner') };
}
const walked = (entries: readonly NightEntry[]): WalkedMetres => walkedMetres(entries.flatMap(({ pipe }) => (pipe === undefined ? [] : [{ fromMm: pipe[0], toMm: pipe[1] }])));

/** By the story: what was measured with the gauge since it was found good. */
const IN_DOUBT = NIGHT.filter(({ withGauge, observedAt }) => withGauge === true && observedAt >= GAUGE_GOOD_AT);

describe('the night', () => {
  test('is thirty entries, two of them keyed from paper in the morning and told late, as who did them and who keyed them', async () => {
    expect(NIGHT).toHaveLength(30);
    for (const { key, path, by, keyed } of NIGHT) {
      const { body } = await engineer.send('GET', `/api/${path}/${idOf(key)}`);
      expect([key, body['late'], body['doneBy'], body['keyedBy']]).toEqual([key, keyed !== undefined, idOf(by), idOf(keyed?.by ?? by)]);
    }
    const { body: log } = await engineer.send<ShiftLogAnswer>('GET', `/api/shifts/${idOf('shift')}/log`);
    expect(log.late.map(({ record, keyedBy }) => [keyOf(record.id), keyOf(keyedBy)])).toEqual([['wall 01:40', 'keyer'], ['wall 03:10', 'keyer']]);
    expect(log.stops.map(({ at, until }) => [at.slice(11, 16), until?.slice(11, 16)])).toEqual([['21:20', '21:30'], ['00:50', '01:05']]);
    expect(log).toMatchObject({ lateTotal: 2, notOfTheCrew: [{ personId: idOf('relief') }], handovers: [{ outcome: 'partly' }] });
    expect(log.open).toEqual([expect.stringContaining('item 2')]);
  });

  test('what changed since the end of the day lead\'s last shift cannot be told without one; since the end of the night, two late entries', async () => {
    const asked = await people.get('dayLead')!.send('GET', `/api/casing-strings/${stringId}/changes`);
    expect(asked).toMatchObject({ status: 422, body: { errors: [{ field: 'since' }] } });
    const own = await people.get('lead')!.send<{ changes: { record: { id: string }; isLate: boolean }[] }>('GET', `/api/casing-strings/${stringId}/changes`);
    expect(own.body.changes.filter(({ isLate }) => isLate).map(({ record }) => keyOf(record.id))).toEqual(['wall 01:40', 'wall 03:10']);
  });
});

describe('the qualification that lapsed at midnight', () => {
  test('concerns the one splice welded after it, on both walls, and no other', async () => {
    const answer = await recalled(`qualificationId=${idOf('welder qualification')}`);
    const after = NIGHT.filter(({ key }) => key === 'S-2 weld');
    expect(concerned(answer)).toEqual(['S-2 weld']);
    expect(metresOf(answer)).toEqual(walked(after));
    // The fold lies in the middle of that splice: it stands on both walls.
    expect([metresOf(answer).outer.length, metresOf(answer).inner.length]).toEqual([1, 1]);
    expect(answer.cautions).toContainEqual(expect.stringContaining('1 further records'));
    expect(concerned(await recalled(`qualificationId=${idOf('relief qualification')}`))).toEqual([]);
    const { body } = await engineer.send('GET', `/api/splices/${idOf('S-2')}/record`);
    expect(body['open']).toContainEqual(expect.stringContaining(`/api/welds/${idOf('S-2 weld')}/check`));
  });
});

describe('the gauge', () => {
  test('a week later is found out: exactly what was measured since it was good, paper too, on exactly those metres of both walls', async () => {
    const before = await engineer.send('GET', `/api/instruments/${idOf('gauge')}/doubt`);
    expect(before.body).toMatchObject({ spans: [] });
    expect(concerned(await recalled(`calibrationId=${idOf('good calibration')}`))).toEqual([]);
    await calibrated('found out', GAUGE_FOUND_OUT_AT, '0.050');
    const answer = await recalled(`calibrationId=${idOf('found out')}`);
    expect(IN_DOUBT.map(({ key }) => key).sort()).toEqual(concerned(answer));
    expect(metresOf(answer)).toEqual(walked(IN_DOUBT));
    expect(concerned(answer)).toEqual(expect.arrayContaining(['wall 01:40', 'wall 03:10', 'wall 23:25', 'S-3 preparation', 'ground']));
    expect(concerned(answer)).not.toContain('wall 23:24');
    expect(answer.strings[0]?.concerned.every(({ isCertain }) => isCertain)).toBe(true);
  });

  test('is doubted in the same records, and the nonconformance to enter covers the same metres', async () => {
    const { body } = await engineer.send<InstrumentDoubtAnswer>('GET', `/api/instruments/${idOf('gauge')}/doubt`);
    const [span] = body.spans;
    expect(span?.records.map(({ record }) => keyOf(record.id)).sort()).toEqual(IN_DOUBT.map(({ key }) => key).sort());
    // 0.05 mm was found: walls of 4.97 are 0.22 from their limit and high-low of 0.2 is 0.3 from its; what was ground off has none.
    expect(span?.records.filter(({ margin }) => margin !== 'enough').map(({ record, margin }) => [keyOf(record.id), margin])).toEqual([['ground', 'not-comparable']]);
    const nonconformanceId = uuidv7();
    expect(span?.proposals).toHaveLength(1);
    const sent = await engineer.send('POST', '/api/nonconformances', { body: { id: nonconformanceId, ...span?.proposals[0] } });
    expect(sent).toMatchObject({ status: 201, body: { origin: 'calibration', stage: 'draft' } });
    expect(metresOf(await recalled(`nonconformanceId=${nonconformanceId}`))).toEqual(walked(IN_DOUBT));
  });

  test('was good by all that was known in the morning, and answers so for ever', async () => {
    const standing = async (query: string): Promise<unknown> =>
      (await engineer.send('GET', `/api/instruments/${idOf('gauge')}/standing?at=2026-03-03T02:10:00Z${query}`)).body['state'];
    expect([await standing(''), await standing(`&asKnownAt=${MORNING}`)]).toEqual(['found-out', 'good']);
    expect((await engineer.send('GET', `/api/recall?calibrationId=${idOf('found out')}&asKnownAt=${MORNING}`)).status).toBe(404);
  });
});
