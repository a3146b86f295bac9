import { afterAll, beforeAll, beforeEach, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { ControlPlansService } from '../../apps/api/src/control-plans/control-plans.service.js';
import { HoldLiftingsService } from '../../apps/api/src/hold-liftings/hold-liftings.service.js';
import { HoldsService } from '../../apps/api/src/holds/holds.service.js';
import { startTestApi, type Answer, type SignedIn, type TestApi } from '../setup/api.js';
import { databaseState } from '../setup/database-state.js';
import { each, StringBench, type Fields } from '../setup/string-bench.js';

let api: TestApi;
let bench: StringBench;
let mate: SignedIn;
let stringId: string;
let otherStringId: string;
let channelId: string;

beforeAll(async () => {
  api = await startTestApi();
  bench = await StringBench.on(api);
  mate = await api.signIn('qc-inspector');
}, 60_000);
afterAll(() => api.close());
beforeEach(async () => {
  [stringId, otherStringId] = [await bench.string(), await bench.string()];
  channelId = await bench.made('channels', channel());
});

const channel = (changes: Fields = {}): Fields => ({
  stringId, name: 'ET-1', measures: 'eddy-current-amplitude', unit: '%', method: 'ET', zone: 'seam', sampling: { per: 'length', everyMm: '1.0' },
  required: true, repeats: 'best', ...changes,
});

const item = (code: string, demands: string, changes: Fields = {}): Fields => ({ code, clause: '4.1', demands, at: 'pipe', ...changes });
const SILENT = { marginMm: null, exceptAt: [], channelId: null, characteristic: null, reachMm: null, test: null, point: null };

const itemsOf = (): Fields[] => [
  item('N-1', 'channel-inspected', { channelId, exceptAt: [{ at: 'splices', marginMm: 300 }, { at: 'lead-end', marginMm: 1 }] }),
  item('D-1', 'dimension', { characteristic: 'wall thickness', reachMm: 6_000 }), item('S-1', 'splice-accepted', { at: 'splices', marginMm: 0 }),
  item('T-1', 'destructive-tests', { test: 'flaring' }), item('P-1', 'point', { at: 'lead-end', marginMm: 2_000, point: 'witness' }),
];

const plan = (changes: Fields = {}): Fields => ({ stringId, document: 'Control plan CP-3', revision: '2', fromMm: 0, items: itemsOf(), ...changes });

const on = (fromMm: number, toMm: number): Fields => ({ from: { footageMm: fromMm }, to: { footageMm: toMm } });

/** What a refusal says: its status, the last part of its type, and the fields it names. Nothing may have been written. */
async function refusal(write: () => Promise<Answer>): Promise<[number, string, unknown[]]> {
  const before = await databaseState(api.owner);
  const answer = await write();
  expect(await databaseState(api.owner)).toEqual(before);
  return [answer.status, String(answer.body['type']).replace('urn:everymetre:problem:', ''), each(answer, 'errors', 'field')];
}

const entered = (path: string, content: Fields): Promise<[number, string, unknown[]]> => refusal(() => bench.enter(path, content));

/** How the stale, the void, and a record moved to another string are refused, whatever its kind: version 1 stands. */
async function expectKeptVersions(path: string, id: string): Promise<void> {
  expect(await refusal(() => bench.amend(`${path}/${id}`, 7, { note: 'x' }))).toEqual([412, 'stale-version', ['If-Match']]);
  expect(await refusal(() => bench.amend(`${path}/${id}`, 1, { stringId: otherStringId }))).toEqual([400, 'malformed', ['stringId']]);
  expect(await bench.withdraw(`${path}/${id}`, 1)).toMatchObject({ status: 200, body: { version: 2, state: 'void' } });
  expect((await refusal(() => bench.amend(`${path}/${id}`, 2, { observedAt: '2026-03-02T09:00:00Z' })))[0]).toBe(409);
}

describe('a control plan', () => {
  test('is answered item by item with all that an item can say, and amended with the whole list', async () => {
    const { status, body } = await bench.enter('control-plans', plan({ note: 'Agreed' }));
    expect([status, body]).toMatchObject([201, { document: 'Control plan CP-3', revision: '2', fromMm: 0, note: 'Agreed', items: itemsOf().map((one) => ({ ...SILENT, ...one })) }]);
    const id = String(body['id']);
    expect(await bench.amend(`control-plans/${id}`, 1, { items: [item('C-1', 'coil-accepted')], note: null })).toMatchObject({
      status: 200, body: { version: 2, items: [{ ...SILENT, code: 'C-1' }], note: null, revision: '2' },
    });
    expect((await bench.get(`control-plans/${id}?asKnownAt=${String(body['recordedAt'])}`)).body).toMatchObject({ version: 1, items: body['items'] });
  });

  test('holds until the next one of its string; of two from one footage none can be told', async () => {
    const ids = [await bench.made('control-plans', plan({ fromMm: 5_000, revision: '3' })), await bench.made('control-plans', plan())];
    await bench.made('control-plans', plan({ stringId: otherStringId, items: [item('C-1', 'coil-accepted')] }));
    const plans = api.app.get(ControlPlansService);
    expect((await plans.ofString(stringId, null)).map(({ id }) => id)).toEqual([...ids].reverse());
    expect(await entered('control-plans', plan({ fromMm: 5_000, revision: '9' }))).toEqual([409, 'conflict', ['fromMm']]);
    await bench.withdraw(`control-plans/${ids[0]}`, 1);
    expect((await plans.ofString(stringId, null)).map(({ id }) => id)).toEqual([ids[1]]);
    const last = await bench.enter('control-plans', plan({ fromMm: 5_000, revision: '4' }));
    expect(last.status).toBe(201);
    expect((await plans.ofString(stringId, String(last.body['recordedAt']))).map(({ revision }) => revision)).toEqual(['2', '4']);
    expect(await plans.ofString(stringId, '2026-01-01T00:00:00Z')).toEqual([]);
  });

  test('is refused where items contradict themselves or lead nowhere', async () => {
    const faulty = [
      item('A', 'coil-accepted', { marginMm: 5 }), item('A', 'point', { at: 'tail-end' }), item('B', 'splice-accepted'), item('D', 'dimension'),
      item('E', 'released', { exceptAt: [{ at: 'tail-end', marginMm: 0 }], test: 'macro' }),
    ];
    expect(await entered('control-plans', plan({ items: faulty }))).toEqual([422, 'contradiction', [
      'items[0].marginMm', 'items[1].code', 'items[1].marginMm', 'items[1].point', 'items[2].at', 'items[3].characteristic', 'items[3].reachMm', 'items[4].exceptAt[0].marginMm', 'items[4].test',
    ]]);
    const elsewhere = await bench.made('channels', channel({ stringId: otherStringId }));
    const voidChannel = await bench.made('channels', channel({ name: 'ET-2' }));
    await bench.withdraw(`channels/${voidChannel}`, 1);
    const of = (...ids: string[]): Fields => plan({ items: ids.map((id, index) => item(`N-${index}`, 'channel-inspected', { channelId: id })) });
    expect(await entered('control-plans', of(channelId, elsewhere, voidChannel, uuidv7()))).toEqual([422, 'unknown-reference', [1, 2, 3].map((nth) => `items[${nth}].channelId`)]);
    expect((await entered('control-plans', plan({ items: [] })))[2]).toEqual(['items']);
    expect(await entered('control-plans', plan({ fromMm: -1, items: [item('a b', 'released'), item('B', 'peace')] }))).toEqual([400, 'malformed', ['fromMm', 'items[0].code', 'items[1].demands']]);
  });

  test('holds the channels it names, and keeps its versions', async () => {
    const id = await bench.made('control-plans', plan());
    expect(await refusal(() => bench.withdraw(`channels/${channelId}`, 1))).toEqual([409, 'held', []]);
    await expectKeptVersions('control-plans', id);
    expect((await bench.withdraw(`channels/${channelId}`, 1)).status).toBe(200);
  });
});

const attendance = (changes: Fields = {}): Fields => ({
  stringId, ...on(1_000, 2_000), itemCode: 'P-1', outcome: 'accepted', attendedBy: [{ name: 'Edda Voss', party: 'customer' }, { name: 'Ilka Brandt', party: 'own' }], ...changes,
});

describe('an attendance', () => {
  let planId: string;
  beforeEach(async () => { planId = await bench.made('control-plans', plan()); });

  test('says who kept the point where, and what came of it', async () => {
    const { status, body } = await bench.enter('attendances', attendance());
    expect([status, body]).toMatchObject([201, { itemCode: 'P-1', outcome: 'accepted', footageFromMm: 1_000, footageToMm: 2_000, attendedBy: attendance()['attendedBy'], note: null, restsOn: [] }]);
    expect(await bench.amend(`attendances/${String(body['id'])}`, 1, { outcome: 'not-accepted', note: 'Bead not trimmed' })).toMatchObject({ status: 200, body: { outcome: 'not-accepted', note: 'Bead not trimmed' } });
    expect(await refusal(() => bench.amend(`attendances/${String(body['id'])}`, 2, { note: null }))).toEqual([422, 'contradiction', ['note']]);
  });

  test('names a point of a standing plan of its string when it first names it, and keeps it when the plan changes', async () => {
    for (const itemCode of ['N-1', 'P-2']) expect(await entered('attendances', attendance({ itemCode }))).toEqual([422, 'unknown-reference', ['itemCode']]);
    expect(await entered('attendances', attendance({ stringId: otherStringId }))).toEqual([422, 'unknown-reference', ['itemCode']]);
    const id = await bench.made('attendances', attendance());
    await bench.amend(`control-plans/${planId}`, 1, { items: [item('P-9', 'point', { point: 'hold' }), item('P-1', 'released')] });
    expect(await bench.amend(`attendances/${id}`, 1, { note: 'Seen' })).toMatchObject({ status: 200, body: { version: 2, itemCode: 'P-1' } });
    expect(await refusal(() => bench.amend(`attendances/${id}`, 2, { itemCode: 'P-8' }))).toEqual([422, 'unknown-reference', ['itemCode']]);
    expect(await bench.amend(`attendances/${id}`, 2, { itemCode: 'P-9' })).toMatchObject({ status: 200, body: { itemCode: 'P-9' } });
    expect(await entered('attendances', attendance())).toEqual([422, 'unknown-reference', ['itemCode']]);
    await bench.withdraw(`control-plans/${planId}`, 2);
    expect(await entered('attendances', attendance({ itemCode: 'P-9' }))).toEqual([422, 'unknown-reference', ['itemCode']]);
  });

  test('is refused out of form and with contradictions, and keeps its versions', async () => {
    expect(await entered('attendances', attendance({ attendedBy: [] }))).toEqual([400, 'malformed', ['attendedBy']]);
    expect(await entered('attendances', attendance({ attendedBy: [{ name: 'Edda Voss', party: 'press' }], itemCode: 'p 1', outcome: 'fine' }))).toEqual([400, 'malformed', ['itemCode', 'outcome', 'attendedBy[0].party']]);
    expect(await entered('attendances', attendance({ to: { footageMm: 1_000 }, outcome: 'not-accepted' }))).toEqual([422, 'contradiction', ['to', 'note']]);
    expect(await entered('attendances', attendance({ to: { footageMm: 4_000_001 } }))).toEqual([422, 'outside-string', ['to']]);
    await expectKeptVersions('attendances', await bench.made('attendances', attendance()));
  });
});

const nonconformance = (changes: Fields = {}): Fields => ({
  title: 'Wall below minimum', severity: 'major', origin: 'line', stringId, extents: [on(1_000, 2_000)], extentBasis: 'measured', stage: 'disposition-approved',
  requirement: { document: 'Pipe inspection plan', revision: '2', clause: '4.3', limit: 'wall at least 4.75 mm' },
  found: { text: 'Thin band', method: 'ultrasonic', instrument: 'UT-04', at: '2026-03-02T08:15:00Z', by: mate.personId },
  disposition: disposition(), ...changes,
});
const disposition = (kind = 'use-as-is-under-concession'): Fields => ({ kind, text: 'Above 400 m only', approvedBy: bench.who.personId, approvedAt: '2026-03-02T11:30:00Z' });

const waiver = (changes: Fields = {}): Fields => ({
  stringId, ...on(1_000, 2_000), itemCode: 'N-1', basis: 'waiver', agreedBy: 'Edda Voss, for the customer', agreement: 'Letter of 1 March 2026', grounds: 'Channel is being repaired', ...changes,
});

describe('a waiver of evidence', () => {
  beforeEach(async () => { await bench.made('control-plans', plan()); });

  test('that was agreed before says of which item, who and in what', async () => {
    const { status, body } = await bench.enter('evidence-waivers', waiver());
    expect([status, body]).toMatchObject([201, { ...waiver(), from: { footageMm: 1_000 }, nonconformanceId: null, footageFromMm: 1_000, footageToMm: 2_000, reason: null }]);
    expect(await bench.amend(`evidence-waivers/${String(body['id'])}`, 1, { agreement: 'Letter of 2 March 2026' })).toMatchObject({ status: 200, body: { agreement: 'Letter of 2 March 2026', reason: 'Read again' } });
    expect(await entered('evidence-waivers', waiver({ itemCode: 'Z' }))).toEqual([422, 'unknown-reference', ['itemCode']]);
    await expectKeptVersions('evidence-waivers', await bench.made('evidence-waivers', waiver()));
  });

  test('that is a concession rests on a nonconformance of the string that is used as it is', async () => {
    const conceded = await bench.made('nonconformances', nonconformance());
    const concession = (nonconformanceId: string | null, changes: Fields = {}): Fields => waiver({ basis: 'concession', nonconformanceId, ...changes });
    expect(await bench.enter('evidence-waivers', concession(conceded))).toMatchObject({ status: 201, body: { nonconformanceId: conceded, marks: [] } });
    expect(await bench.enter('evidence-waivers', concession(conceded, on(1_500, 2_500)))).toMatchObject({ status: 201, body: { marks: [{ kind: 'noted', field: 'nonconformanceId', value: conceded }] } });

    expect(await entered('evidence-waivers', concession(null))).toEqual([422, 'contradiction', ['nonconformanceId']]);
    expect(await entered('evidence-waivers', waiver({ nonconformanceId: conceded }))).toEqual([422, 'contradiction', ['nonconformanceId']]);
    for (const changes of [{ disposition: disposition('repair') }, { disposition: null, stage: 'open' }]) {
      expect(await entered('evidence-waivers', concession(await bench.made('nonconformances', nonconformance(changes))))).toEqual([422, 'contradiction', ['nonconformanceId']]);
    }
    const elsewhere = await bench.made('nonconformances', nonconformance({ stringId: otherStringId }));
    for (const id of [elsewhere, uuidv7()]) expect(await entered('evidence-waivers', concession(id))).toEqual([422, 'unknown-reference', ['nonconformanceId']]);
  });

  test('keeps the concession it rests on from being taken away', async () => {
    const conceded = await bench.made('nonconformances', nonconformance());
    const id = await bench.made('evidence-waivers', waiver({ basis: 'concession', nonconformanceId: conceded }));
    expect(await refusal(() => bench.withdraw(`nonconformances/${conceded}`, 1))).toEqual([409, 'held', []]);
    expect(await refusal(() => bench.amend(`nonconformances/${conceded}`, 1, { disposition: disposition('repair') }))).toEqual([422, 'rested-on', ['disposition']]);
    expect((await bench.amend(`nonconformances/${conceded}`, 1, { note: 'Looked at again' })).status).toBe(200);
    await bench.withdraw(`evidence-waivers/${id}`, 1);
    expect((await bench.amend(`nonconformances/${conceded}`, 2, { disposition: disposition('repair') })).status).toBe(200);
  });
});

const hold = (changes: Fields = {}): Fields => ({ stringId, cause: 'Wall below minimum', intervals: [on(2_000, 2_500), on(2_400, 3_000)], coilIds: [], spliceIds: [], ...changes });

const splice = async (of: string): Promise<string> => {
  const [leavingCoilId, enteringCoilId] = [await bench.coil(), await bench.coil()];
  return bench.made('splices', { stringId: of, number: `S-${uuidv7().slice(-4)}`, leavingCoilId, enteringCoilId, angleDeg: '45', hand: 'left', confirmed: true, verdict: 'accepted', from: { footageMm: 100_000 } });
};

describe('a hold', () => {
  test('is of intervals, coils or splices; what is given of pipe becomes footage, and the rest stays named', async () => {
    const { status, body } = await bench.enter('holds', hold());
    expect([status, body]).toMatchObject([201, { cause: 'Wall below minimum', intervals: [on(2_000, 2_500), on(2_400, 3_000)], footage: [{ fromMm: 2_000, toMm: 3_000 }], restsOn: [], coilIds: [], spliceIds: [] }]);
    const [coilId, spliceId] = [await bench.unpermittedCoil(), await splice(stringId)];
    const named = await bench.enter('holds', hold({ intervals: [], coilIds: [coilId], spliceIds: [spliceId] }));
    expect([named.status, named.body]).toMatchObject([201, { intervals: [], footage: [], coilIds: [coilId], spliceIds: [spliceId] }]);
    expect(await bench.amend(`holds/${String(named.body['id'])}`, 1, { intervals: [{ from: { footageMm: 5 } }], coilIds: [] })).toMatchObject({
      status: 200, body: { footage: [{ fromMm: 5, toMm: 6 }], coilIds: [], spliceIds: [spliceId] },
    });
    const { versions } = (await bench.get(`holds/${String(named.body['id'])}/history`)).body as { versions: { changes: Fields[] }[] };
    expect(versions[1]!.changes.map(({ field }) => field)).toEqual(['intervals', 'coilIds', 'footage']);
    expect((await api.app.get(HoldsService).about(stringId, [], String(body['recordedAt']))).map(({ id }) => id)).toEqual([body['id']]);
  });

  test('follows a correction of the counter that its pipe was given by', async () => {
    const periodId = await bench.made('counter-periods', { stringId, observedAt: '2026-03-02T06:00:00Z', startReading: '0', startFootageMm: 0, scaleMmPerCount: '1.0000', scaleRelativeU: '0', wheel: 'W-2' });
    const read = (from: string, to: string): Fields => ({ from: { counterReading: from }, to: { counterReading: to } });
    const { body } = await bench.enter('holds', hold({ intervals: [read('1000', '2000'), on(9_000, 9_500)] }));
    expect(body).toMatchObject({ footage: [{ fromMm: 1_000, toMm: 2_000 }, { fromMm: 9_000, toMm: 9_500 }], restsOn: [{ kind: 'counter-period', id: periodId }] });
    expect((await bench.amend(`counter-periods/${periodId}`, 1, { scaleMmPerCount: '1.1000' })).status).toBe(200);
    const moved = await bench.get(`holds/${String(body['id'])}`);
    expect(moved.body).toMatchObject({ version: 2, footage: [{ fromMm: 1_100, toMm: 2_200 }, { fromMm: 9_000, toMm: 9_500 }], intervals: body['intervals'] });
    expect(moved.body['reason']).toMatch(/^Position derived again because counter period .*: footage \[1000, 2000\), \[9000, 9500\) mm became \[1100, 2200\), \[9000, 9500\) mm\.$/);
    const recall = await bench.get(`recall?counterPeriodId=${periodId}`);
    const [{ concerned } = { concerned: [] }] = recall.body['strings'] as { concerned: { record: Fields; footage: Fields }[] }[];
    expect(concerned.filter(({ record }) => record['kind'] === 'hold').map(({ record, footage }) => [record['id'], footage])).toEqual([
      [body['id'], { fromMm: 1_100, toMm: 2_200 }], [body['id'], { fromMm: 9_000, toMm: 9_500 }],
    ]);
  });

  test('is refused of nothing, of what is not there, and outside its string', async () => {
    expect(await entered('holds', hold({ intervals: [] }))).toEqual([422, 'contradiction', ['intervals']]);
    const [coilId, mine, theirs] = [await bench.unpermittedCoil(), await splice(stringId), await splice(otherStringId)];
    expect(await entered('holds', hold({ intervals: [on(5, 5)], coilIds: [coilId, coilId], spliceIds: [mine, mine] }))).toEqual([422, 'contradiction', ['intervals[0].to', 'coilIds[1]', 'spliceIds[1]']]);
    expect(await entered('holds', hold({ coilIds: [uuidv7(), coilId], spliceIds: [theirs, mine, coilId] }))).toEqual([422, 'unknown-reference', ['coilIds[0]', 'spliceIds[0]', 'spliceIds[2]']]);
    expect(await entered('holds', hold({ intervals: [{ from: { counterReading: '5' } }] }))).toEqual([422, 'no-counter-period', ['intervals[0].from.counterReading']]);
    expect(await entered('holds', hold({ intervals: [on(5, 4_000_001)] }))).toEqual([422, 'outside-string', ['intervals']]);
    expect(await entered('holds', hold({ intervals: null, coilIds: 'LM-01' }))).toEqual([400, 'malformed', ['intervals', 'coilIds']]);
  });

  test('holds the coils and splices that it names, and keeps its versions', async () => {
    const [coilId, spliceId] = [await bench.unpermittedCoil(), await splice(stringId)];
    const id = await bench.made('holds', hold({ coilIds: [coilId], spliceIds: [spliceId] }));
    for (const path of [`coils/${coilId}`, `splices/${spliceId}`]) expect(await refusal(() => bench.withdraw(path, 1))).toEqual([409, 'held', []]);
    await expectKeptVersions('holds', id);
    for (const path of [`coils/${coilId}`, `splices/${spliceId}`]) expect((await bench.withdraw(path, 1)).status).toBe(200);
  });
});

const lifting = (holdId: string, changes: Fields = {}): Fields => ({ stringId, observedAt: '2026-03-02T11:40:00Z', holdId, grounds: 'Extent measured', evidence: 'NC-0007', doneBy: mate.personId, ...changes });

describe('a lifting of a hold', () => {
  test('takes the hold off what is open', async () => {
    const holdId = await bench.made('holds', hold({ cause: 'Odd sound at the squeeze rolls' }));
    const open = async (): Promise<unknown[]> => {
      const { body } = await bench.get(`casing-strings/${stringId}/open-items`);
      return (body['items'] as { what: string; record: { id: string }; words: string; footage: unknown[] }[]).filter(({ record }) => record.id === holdId).map(({ what, words, footage }) => [what, words, footage]);
    };
    expect(await open()).toEqual([['hold', 'held: Odd sound at the squeeze rolls', [{ fromMm: 2_000, toMm: 3_000 }]]]);
    await bench.made('hold-liftings', lifting(holdId));
    expect(await open()).toEqual([]);
  });

  test('is by another person, once, and keeps the hold', async () => {
    const holdId = await bench.made('holds', hold());
    const { status, body } = await bench.enter('hold-liftings', lifting(holdId));
    expect([status, body]).toMatchObject([201, { holdId, grounds: 'Extent measured', evidence: 'NC-0007', doneBy: mate.personId, ownHoldBecause: null, marks: [{ kind: 'noted', field: 'keyedBy', value: bench.who.personId }] }]);
    expect(await entered('hold-liftings', lifting(holdId, { grounds: 'Again' }))).toEqual([409, 'conflict', ['holdId']]);
    expect(await refusal(() => bench.withdraw(`holds/${holdId}`, 1))).toEqual([409, 'held', []]);
    expect(await refusal(() => bench.amend(`holds/${holdId}`, 1, { intervals: [on(0, 9_000)] }))).toEqual([422, 'lifted', ['intervals']]);
    expect(await refusal(() => bench.amend(`holds/${holdId}`, 1, { doneBy: mate.personId }))).toEqual([422, 'own-hold', ['doneBy']]);
    expect((await bench.amend(`holds/${holdId}`, 1, { cause: 'Wall below minimum at two places' })).status).toBe(200);
    const liftings = api.app.get(HoldLiftingsService);
    expect((await liftings.ofHolds([holdId], null)).get(holdId)?.id).toBe(body['id']);

    expect(await bench.withdraw(`hold-liftings/${String(body['id'])}`, 1)).toMatchObject({ status: 200 });
    expect((await liftings.ofHolds([holdId], null)).size).toBe(0);
    expect((await liftings.ofHolds([holdId], String(body['recordedAt']))).size).toBe(1);
    expect(await bench.enter('hold-liftings', lifting(holdId))).toMatchObject({ status: 201 });
  });

  test('by who set the hold needs to say why, and shows it', async () => {
    const holdId = await bench.made('holds', hold());
    const own = { doneBy: undefined };
    expect(await entered('hold-liftings', lifting(holdId, own))).toEqual([422, 'own-hold', ['doneBy']]);
    const { status, body } = await bench.enter('hold-liftings', lifting(holdId, { ...own, ownHoldBecause: 'Alone on shift' }));
    expect([status, body]).toMatchObject([201, { doneBy: bench.who.personId, ownHoldBecause: 'Alone on shift', marks: [{ kind: 'noted', field: 'doneBy', value: bench.who.personId }] }]);
    const path = `hold-liftings/${String(body['id'])}`;
    expect(await refusal(() => bench.amend(path, 1, { ownHoldBecause: null }))).toEqual([422, 'own-hold', ['doneBy']]);
    expect(await bench.amend(path, 1, { doneBy: mate.personId, ownHoldBecause: null })).toMatchObject({ status: 200, body: { version: 2, doneBy: mate.personId } });
  });

  test('is of a standing hold of its string, stays with it, and is not before it', async () => {
    const [holdId, voidId, elsewhere] = [await bench.made('holds', hold()), await bench.made('holds', hold()), await bench.made('holds', hold({ stringId: otherStringId }))];
    await bench.withdraw(`holds/${voidId}`, 1);
    for (const id of [voidId, elsewhere, uuidv7(), stringId]) expect(await entered('hold-liftings', lifting(id))).toEqual([422, 'unknown-reference', ['holdId']]);
    expect(await entered('hold-liftings', lifting(holdId, { grounds: ' ', evidence: null }))).toEqual([400, 'malformed', ['grounds', 'evidence']]);
    expect(await entered('hold-liftings', lifting(holdId, { observedAt: '2026-03-02T08:14:00Z' }))).toEqual([422, 'implausible', ['observedAt']]);
    const id = await bench.made('hold-liftings', lifting(holdId));
    expect(await refusal(() => bench.amend(`hold-liftings/${id}`, 1, { holdId: uuidv7() }))).toEqual([422, 'other-hold', ['holdId']]);
    await expectKeptVersions('hold-liftings', id);
  });
});

