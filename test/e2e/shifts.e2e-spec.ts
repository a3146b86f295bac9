import { beforeAll, beforeEach, describe, expect, jest, test } from '@jest/globals';
import type { DataSource, EntityManager, QueryRunner } from 'typeorm';
import { v7 as uuidv7 } from 'uuid';
import { sqlRefusal } from '#libs/persistence';
import { RecordReaders } from '../../apps/api/src/records/record-readers.js';
import { STRING_KIND, STRING_KINDS } from '../../apps/api/src/string-records/string-kinds.js';
import type { Answer, SignedIn } from '../setup/api.js';
import { databaseState } from '../setup/database-state.js';
import { firstVersion, insertRow, type Columns } from '../setup/record-rows.js';
import type { Work } from '../setup/row-trials.js';
import { entered } from '../setup/string-builder.js';
import { at, fieldsRefused, lineFactory, type Fields } from './line.factory.js';

const { api, engineer, stringId, post, made, amend, withdraw, get, period, reading, seen, cutOut } = lineFactory();
// Some tests enter dozens of records, and the cores are shared with other suites.
jest.setTimeout(30_000);

let lead: SignedIn;
let mate: SignedIn;
let visitor: SignedIn;

beforeAll(async () => {
  lead = await api().signIn('qc-inspector');
  mate = await api().signIn('qc-inspector');
  visitor = await api().signIn('auditor');
});

/** So many minutes before now: what is late is told by the real time of entry. */
const ago = (minutes: number): string => new Date(Date.now() - minutes * 60_000).toISOString();
const typeOf = ({ body }: Answer): string => String(body['type']).replace('urn:everymetre:problem:', '');
const marksOf = ({ body }: Answer): unknown[] => (body['marks'] as Fields[]).map(({ kind, field }) => [kind, field]);

const crew = (...people: SignedIn[]): Fields[] => people.map(({ personId }, index) => ({ personId, duty: index === 0 ? 'Shift lead' : 'Line operator' }));

/** Times of their own for each test, so that nobody is on two shifts at once unless a test wants it. */
let daysBack = 400;
beforeEach(() => {
  daysBack += 3;
});
const clock = (hour: number, minute = 0): string => new Date(Date.parse('2026-03-02T00:00:00Z') - daysBack * 86_400_000 + (hour * 60 + minute) * 60_000).toISOString();

const shift = (changes: Fields = {}): Fields => ({ stringId: stringId(), name: 'day', observedAt: clock(6), until: clock(14), crew: crew(lead), ...changes });

const handover = (shiftId: string, changes: Fields = {}): Fields => ({
  stringId: stringId(), shiftId, observedAt: clock(13, 50), doneBy: lead.personId, items: [{ words: 'Splice S-3: film unclear', footageMm: 212_000 }, { words: 'Gauge MI-07 is away' }], ...changes,
});

const accepted = (handoverId: string, changes: Fields = {}): Fields => ({
  stringId: stringId(), handoverId, handoverVersion: 1, observedAt: clock(13, 58), doneBy: mate.personId, items: [{ item: 1, accepted: true }, { item: 2, accepted: true }], ...changes,
});

/** Sends each body, in turn, and expects its refusal; nothing is written. */
async function refused(path: string, bodies: readonly [number, string[], Fields][]): Promise<void> {
  const state = await databaseState(api().owner);
  for (const [status, fields, body] of bodies) {
    const answer = await post(path, body);
    expect([answer.status, fieldsRefused(answer), body]).toEqual([status, fields, body]);
  }
  expect(await databaseState(api().owner)).toEqual(state);
}

const procedure = (): Promise<string> => made('weld-procedures', {
  observedAt: at('05:00'), number: `WP-${uuidv7().slice(-8)}`, revision: 1, title: 'Seam', purpose: 'seam', process: 'HFW', effectiveFrom: '2020-01-01',
  ranges: [{ variable: 'power', min: '160', max: '200', unit: 'kW' }], lists: [],
});

const confirmed = (answer: Answer): unknown[] => (answer.body['errors'] as Fields[]).map(({ confirm }) => confirm);

describe('a shift', () => {
  test('is entered while it runs, and amended when it ends', async () => {
    const id = await made('shifts', shift({ until: null, weather: 'Rain from 09:00, 4 °C' }));
    expect(await get('shifts', id)).toMatchObject({ until: null, crew: [{ personId: lead.personId, duty: 'Shift lead' }], weather: 'Rain from 09:00, 4 °C', marks: [] });
    expect(await amend('shifts', id, 1, { until: clock(14) })).toMatchObject({ status: 200, body: { version: 2, until: clock(14).replace('Z', '000Z') } });
    expect(await amend('shifts', id, 2, { until: clock(6) })).toMatchObject({ status: 422, body: { errors: [{ field: 'until' }] } });
  });

  test('overlaps that of another crew without a word; who is on two at once is asked about, on any string, and marked', async () => {
    await made('shifts', shift());
    await made('shifts', shift({ name: 'day, second crew', crew: crew(mate) }));
    const elsewhere = await made('casing-strings', {
      wellId: (await get('casing-strings', stringId()))['wellId'], name: `Lindmoor 2 string of ${uuidv7()}`, footageLimitMm: 1_000, outsideDiameterMm: '127.0', wallThicknessMm: '5.00',
      lengthRatio: '0.985', lengthRatioU: '0.004', observedAt: at('05:10'),
    });
    const twice = shift({ id: uuidv7(), stringId: elsewhere, observedAt: clock(13, 59), until: clock(22), crew: crew(visitor, mate) });
    const question = await post('shifts', twice);
    expect([question.status, typeOf(question), fieldsRefused(question)]).toEqual([422, 'implausible', ['crew[1].personId']]);
    expect(question.body).toMatchObject({ errors: [{ value: mate.personId, limit: expect.stringContaining('also in day, second crew') }] });
    const taken = await post('shifts', { ...twice, confirm: confirmed(question) });
    expect([taken.status, marksOf(taken)]).toEqual([201, [['confirmed-implausible', 'crew[1].personId']]]);
    // It ends and the next begins at one instant: nobody was in both.
    expect(await post('shifts', shift({ observedAt: clock(22), until: clock(30) }))).toMatchObject({ status: 201 });
    expect(await post('shifts', shift({ observedAt: clock(14), until: clock(22) }))).toMatchObject({ status: 201, body: { marks: [] } });
  });

  test('that cannot be is refused field by field, and nothing is written', async () => {
    await refused('shifts', [
      [400, ['crew'], shift({ crew: [] })],
      [400, ['crew'], shift({ crew: null })],
      [400, ['crew[0].duty'], shift({ crew: [{ personId: lead.personId, duty: ' ' }] })],
      [422, ['crew[1].personId'], shift({ crew: crew(lead, lead) })],
      [422, ['crew[0].personId'], shift({ crew: [{ personId: uuidv7(), duty: 'Shift lead' }] })],
      [422, ['until'], shift({ until: clock(6) })],
      [422, ['until', 'crew[1].personId'], shift({ until: clock(5), crew: crew(lead, lead) })],
      [400, ['until'], shift({ until: '14:00' })],
      [422, ['until'], shift({ until: clock(31) })],
      [422, ['stringId'], shift({ stringId: uuidv7() })],
      [400, ['name'], shift({ name: '' })],
    ]);
  });
});

describe('an event of a shift', () => {
  const event = (shiftId: string, changes: Fields = {}): Fields => ({ stringId: stringId(), shiftId, observedAt: clock(8, 10), category: 'visitor', text: 'Shown round', ...changes });

  test('outside its time is asked about; about a record, it names one of the same string', async () => {
    const shiftId = await made('shifts', shift());
    const inspectionId = await made('inspections', seen('08:15', { footageMm: 5_000 }));
    const about = { kind: 'inspection', id: inspectionId };
    const eventId = uuidv7();
    expect(await post('shift-events', event(shiftId, { id: eventId, about }))).toMatchObject({ status: 201, body: { about, marks: [] } });
    const early = event(shiftId, { id: uuidv7(), observedAt: clock(5, 59) });
    const question = await post('shift-events', early);
    expect([question.status, typeOf(question), fieldsRefused(question)]).toEqual([422, 'implausible', ['observedAt']]);
    expect(marksOf(await post('shift-events', { ...early, confirm: confirmed(question) }))).toEqual([['confirmed-implausible', 'observedAt']]);
    // What was named stays named when it is withdrawn since; it cannot be named anew.
    await withdraw('inspections', inspectionId, 1);
    expect(await amend('shift-events', eventId, 1, { text: 'Shown round the line' })).toMatchObject({ status: 200, body: { about } });
    await refused('shift-events', [
      [422, ['about.id'], event(shiftId, { about })],
      [422, ['about.id'], event(shiftId, { about: { kind: 'splice', id: inspectionId } })],
      [400, ['about.kind'], event(shiftId, { about: { kind: 'device', id: inspectionId } })],
      [422, ['shiftId'], event(uuidv7())],
      [400, ['category'], event(shiftId, { category: 'lunch' })],
      [400, ['text'], event(shiftId, { text: '' })],
    ]);
    expect(await withdraw('shifts', shiftId, 1)).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:held' } });
  });

  test('belongs to the string of its shift', async () => {
    const shiftId = await made('shifts', shift());
    const other = { ...event(shiftId), stringId: String((await post('casing-strings', {
      wellId: (await get('casing-strings', stringId()))['wellId'], name: uuidv7(), footageLimitMm: 1_000, outsideDiameterMm: '127.0', wallThicknessMm: '5.00', lengthRatio: '0.985', lengthRatioU: '0.004', observedAt: at('05:10'),
    })).body['id']) };
    await refused('shift-events', [[422, ['shiftId'], other]]);
    await refused('handovers', [[422, ['shiftId'], { ...handover(shiftId), stringId: other.stringId }]]);
  });
});

describe('a handover', () => {
  test('is accepted by name, item by item, by another person; once; and says for ever what it said', async () => {
    const shiftId = await made('shifts', shift());
    const nextShiftId = await made('shifts', shift({ name: 'late', observedAt: clock(14), until: clock(22), crew: crew(mate) }));
    const id = await made('handovers', handover(shiftId, { nextShiftId }));
    expect(await amend('handovers', id, 1, { note: 'Walked the line together' })).toMatchObject({ status: 200 });
    const state = await databaseState(api().owner);
    // What was read is not what stands.
    expect(await post('handover-acceptances', accepted(id))).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:stale-handover', errors: [{ field: 'handoverVersion', limit: '2, the version that stands' }] } });
    expect(await databaseState(api().owner)).toEqual(state);

    const taken = await post('handover-acceptances', accepted(id, { handoverVersion: 2, items: [{ item: 2, accepted: false, words: 'Since when?' }, { item: 1, accepted: true }] }));
    expect(taken).toMatchObject({ status: 201, body: { doneBy: mate.personId, keyedBy: engineer().personId, items: [{ item: 2, accepted: false, words: 'Since when?' }, { item: 1, accepted: true, words: null }] } });
    // The engineer keyed both papers, and neither accepted nor gave anything: nothing to mark.
    expect(marksOf(taken)).toEqual([]);
    const after = await databaseState(api().owner);
    expect(await post('handover-acceptances', accepted(id, { handoverVersion: 2 }))).toMatchObject({ status: 409, body: { errors: [{ field: 'handoverId', limit: 'a handover that nobody accepted yet' }] } });
    expect(await amend('handovers', id, 2, { note: 'Nothing else' })).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:accepted-handover' } });
    expect(await amend('handovers', id, 2, { doneBy: mate.personId })).toMatchObject({ status: 409 });
    expect(await withdraw('handovers', id, 2)).toMatchObject({ status: 409, body: { type: 'urn:everymetre:problem:held' } });
    expect(await databaseState(api().owner)).toEqual(after);
    // An acceptance that was withdrawn leaves room for one in its place, not for other words in the handover.
    expect(await withdraw('handover-acceptances', String(taken.body['id']), 1)).toMatchObject({ status: 200 });
    expect(await amend('handovers', id, 2, { note: 'Nothing else' })).toMatchObject({ status: 409 });
    expect(await post('handover-acceptances', accepted(id, { handoverVersion: 2 }))).toMatchObject({ status: 201 });
  });

  test('is never accepted by who gave it: the API refuses it, and the database whoever asks it', async () => {
    const shiftId = await made('shifts', shift());
    const id = await made('handovers', handover(shiftId));
    const own = accepted(id, { doneBy: lead.personId });
    const unnamed: Fields = { ...own, id: uuidv7(), doneBy: undefined };
    const state = await databaseState(api().owner);
    expect(await post('handover-acceptances', own)).toMatchObject({ status: 422, body: { type: 'urn:everymetre:problem:own-handover', errors: [{ field: 'doneBy', value: lead.personId }] } });
    expect(await lead.send('POST', '/api/handover-acceptances', { body: unnamed })).toMatchObject({ status: 422, body: { errors: [{ field: 'doneBy' }] } });
    for (const source of [api().dataSource, api().owner]) {
      expect(await inDatabase(source, acceptanceRow(id, { done_by: lead.personId }))).toBe('EM012 accepted_by_another');
      expect(await inDatabase(source, acceptanceRow(id, { handover_version: '2' }))).toBe('EM012 accepted_as_given');
      expect(await inDatabase(source, acceptanceRow(id, {}))).toBe('taken');
    }
    expect(await databaseState(api().owner)).toEqual(state);

    const acceptanceId = await made('handover-acceptances', accepted(id));
    expect(await amend('handover-acceptances', acceptanceId, 1, { doneBy: lead.personId })).toMatchObject({ status: 422, body: { errors: [{ field: 'doneBy' }] } });
    for (const source of [api().dataSource, api().owner]) expect(await said(source, (manager) => amendedRow(manager, id, shiftId))).toBe('EM012 accepted_stays');
  });

  test('is never accepted by what was said to another: the acceptance stays with it', async () => {
    const shiftId = await made('shifts', shift());
    const [id, otherId] = [await made('handovers', handover(shiftId)), await made('handovers', handover(shiftId))];
    const acceptanceId = await made('handover-acceptances', accepted(id));
    const state = await databaseState(api().owner);
    expect(await amend('handover-acceptances', acceptanceId, 1, { handoverId: otherId })).toMatchObject({
      status: 422, body: { type: 'urn:everymetre:problem:other-handover', errors: [{ field: 'handoverId', value: otherId, limit: `stays ${id}` }] },
    });
    expect(await databaseState(api().owner)).toEqual(state);
    const when = new Date().toISOString();
    const moved: Work = async (manager) => {
      await manager.query('update handover_acceptance set known_until = $2 where id = $1', [acceptanceId, when]);
      await insertRow(manager, 'handover_acceptance', { ...acceptanceRow(otherId, {}), id: acceptanceId, version: '2', known_from: when, reason: 'Other handover' });
    };
    for (const source of [api().dataSource, api().owner]) expect(await said(source, moved)).toBe('EM012 acceptance_stays');
  });

  test('and an amendment of it at the same moment never both come through', async () => {
    const shiftId = await made('shifts', shift());
    const outcomes: string[] = [];
    for (let round = 0; round < 12; round += 1) {
      const id = await made('handovers', handover(shiftId));
      const [changed, taken] = await Promise.all([amend('handovers', id, 1, { note: `Round ${round}` }), post('handover-acceptances', accepted(id))]);
      outcomes.push(`${changed.status} ${taken.status}`);
    }
    expect(outcomes.filter((outcome) => outcome !== '200 409' && outcome !== '409 201')).toEqual([]);
  });

  test('waits in the database for an amendment that is under way, as an amendment waits for it; then the later one is refused', async () => {
    const shiftId = await made('shifts', shift());
    const [first, second] = [await made('handovers', handover(shiftId)), await made('handovers', handover(shiftId))];
    const accept = (id: string) => (manager: EntityManager): Promise<unknown> => insertRow(manager, 'handover_acceptance', acceptanceRow(id, {}));
    const change = (id: string) => (manager: EntityManager): Promise<unknown> => amendedRow(manager, id, shiftId);
    expect(await oneAfterTheOther(accept(first), change(first))).toBe('EM012 accepted_stays');
    expect(await oneAfterTheOther(change(second), accept(second))).toBe('EM012 accepted_as_given');
  });

  test('by somebody else than the crew, or with one hand in both papers, is taken and marked', async () => {
    const shiftId = await made('shifts', shift());
    const nextShiftId = await made('shifts', shift({ name: 'late', observedAt: clock(14), until: clock(22), crew: crew(mate) }));
    expect(marksOf(await post('handovers', handover(shiftId, { doneBy: engineer().personId })))).toEqual([['noted', 'doneBy']]);
    const id = uuidv7();
    expect(await lead.send('POST', '/api/handovers', { body: { id, ...handover(shiftId, { nextShiftId }) } })).toMatchObject({ status: 201, body: { marks: [] } });
    const keyedByGiver = await lead.send('POST', '/api/handover-acceptances', { body: { id: uuidv7(), ...accepted(id, { doneBy: engineer().personId }) } });
    expect([keyedByGiver.status, marksOf(keyedByGiver)]).toEqual([201, [['noted', 'doneBy'], ['noted', 'keyedBy']]]);
    // A confirmed acceptance from before the handover stays confirmed when it is amended.
    const other = await made('handovers', handover(shiftId));
    const early = { id: uuidv7(), ...accepted(other, { observedAt: clock(13, 49) }) };
    const question = await post('handover-acceptances', early);
    expect([typeOf(question), fieldsRefused(question)]).toEqual(['implausible', ['observedAt']]);
    expect(await post('handover-acceptances', { ...early, confirm: confirmed(question) })).toMatchObject({ status: 201 });
    expect(await amend('handover-acceptances', early.id, 1, { note: 'Clock of the paper was wrong' })).toMatchObject({ status: 200 });
  });

  test('that does not go together, or is accepted in part, is refused field by field, and nothing is written', async () => {
    const shiftId = await made('shifts', shift());
    const earlier = await made('shifts', shift({ observedAt: clock(-6), until: clock(2) }));
    const id = await made('handovers', handover(shiftId));
    await refused('handovers', [
      [422, ['nextShiftId'], handover(shiftId, { nextShiftId: shiftId })],
      [422, ['nextShiftId'], handover(shiftId, { nextShiftId: uuidv7() })],
      [422, ['nextShiftId'], handover(shiftId, { nextShiftId: earlier })],
      [422, ['observedAt'], handover(shiftId, { observedAt: clock(5) })],
      [400, ['items'], handover(shiftId, { items: null })],
      [400, ['items[0].words'], handover(shiftId, { items: [{ words: '' }] })],
      [400, ['items[0].footageMm'], handover(shiftId, { items: [{ words: 'x', footageMm: -1 }] })],
      [422, ['items[1].about.id'], handover(shiftId, { items: [{ words: 'x' }, { words: 'x', about: { kind: 'weld', id: uuidv7() } }] })],
    ]);
    await refused('handover-acceptances', [
      [422, ['items'], accepted(id, { items: [{ item: 1, accepted: true }] })],
      [422, ['items[2].item'], accepted(id, { items: [{ item: 1, accepted: true }, { item: 2, accepted: true }, { item: 3, accepted: true }] })],
      [422, ['items[1].item', 'items'], accepted(id, { items: [{ item: 1, accepted: true }, { item: 1, accepted: false, words: 'No' }] })],
      [422, ['items[1].words'], accepted(id, { items: [{ item: 1, accepted: true }, { item: 2, accepted: false }] })],
      [400, ['items[0].item'], accepted(id, { items: [{ item: 0, accepted: true }] })],
      [400, ['items[0].accepted'], accepted(id, { items: [{ item: 1, accepted: 'yes' }] })],
      [422, ['handoverId'], accepted(uuidv7())],
      [422, ['doneBy', 'items'], accepted(id, { doneBy: lead.personId, items: [] })],
    ]);
  });

  const acceptanceRow = (handoverId: string, changes: Columns): Columns => firstVersion('handover_acceptance', {
    id: uuidv7(), string_id: stringId(), handover_id: handoverId, done_by: mate.personId, keyed_by: mate.personId, device_id: null, ...changes,
  });

  /** Closes the open version, the first, and adds the second, past the program. */
  async function amendedRow(manager: EntityManager, id: string, shiftId: string): Promise<void> {
    const when = new Date().toISOString();
    await manager.query('update handover set known_until = $2 where id = $1 and known_until is null', [id, when]);
    await insertRow(manager, 'handover', firstVersion('handover', {
      id, version: '2', known_from: when, string_id: stringId(), shift_id: shiftId, done_by: lead.personId, keyed_by: mate.personId, device_id: null,
    }));
  }

  /** What the database says to a write past the program, of which nothing stays. */
  const inDatabase = (source: DataSource, row: Columns): Promise<string> => said(source, (manager) => insertRow(manager, 'handover_acceptance', row));

  /** What it says to the second of two writes that begins while the first is under way, once that was kept. */
  async function oneAfterTheOther(one: Work, other: Work): Promise<string> {
    const runner = api().dataSource.createQueryRunner();
    await begun(runner);
    await one(runner.manager);
    let isAnswered = false;
    const answer = said(api().dataSource, other).finally(() => {
      isAnswered = true;
    });
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect(isAnswered).toBe(false);
    await runner.commitTransaction();
    await runner.release();
    return answer;
  }

  async function begun(runner: QueryRunner): Promise<void> {
    await runner.startTransaction();
    await runner.query("select set_config('app.actor', $1, true), set_config('app.request', 'test', true)", [mate.personId]);
  }

  async function said(source: DataSource, work: Work): Promise<string> {
    const runner = source.createQueryRunner();
    await begun(runner);
    try {
      await work(runner.manager);
      return 'taken';
    } catch (error) {
      const refusal = sqlRefusal(error);
      return `${refusal?.sqlState ?? String(error)} ${refusal?.constraint ?? ''}`;
    } finally {
      await runner.rollbackTransaction();
      await runner.release();
    }
  }
});

describe('the log of a shift', () => {
  const log = async (id: string, query = ''): Promise<Record<string, Fields[]> & { shift: Fields; open: string[]; lateTotal: number }> => (await get('shifts', `${id}/log${query}`)) as never;
  const idsOf = (entries: readonly Fields[], field: string): unknown[] => entries.map((entry) => (entry[field] as Fields)['id']);

  test('shows a paper that was keyed after the end as late, by whom and when; nothing is hidden', async () => {
    const shiftId = await made('shifts', shift({ observedAt: ago(180), until: null, crew: crew(lead, mate) }));
    const inspected = (minutes: number, changes: Fields = {}): Fields => seen('00:00', { footageMm: 1_000 }, { observedAt: ago(minutes), doneBy: lead.personId, ...changes });
    const onTime = await made('inspections', inspected(120));
    await made('inspections', inspected(240));
    const gone = await made('inspections', inspected(100, { doneBy: engineer().personId }));
    await withdraw('inspections', gone, 1);
    const ended = (await made('counter-periods', period({ observedAt: ago(170) })), new Date().toISOString());
    await amend('shifts', shiftId, 1, { until: ended });
    const before = (await get('shifts', shiftId))['recordedAt'];
    const paper = uuidv7();
    expect(await mate.send('POST', '/api/inspections', { body: { id: paper, ...inspected(110, { source: 'paper' }) } })).toMatchObject({ status: 201 });
    const event = await mate.send('POST', '/api/shift-events', { body: { id: uuidv7(), stringId: stringId(), shiftId, observedAt: ago(90), category: 'equipment', text: 'Gauge changed' } });
    expect(event.status).toBe(201);

    const found = await log(shiftId);
    expect(found['records']).toEqual([
      { kind: 'counter-period', total: 1, late: 0, withdrawn: 0 }, { kind: 'inspection', total: 2, late: 1, withdrawn: 1 }, { kind: 'shift-event', total: 1, late: 1, withdrawn: 0 },
    ]);
    expect(found.lateTotal).toBe(2);
    expect(found['late']).toMatchObject([
      { record: { kind: 'inspection', id: paper }, doneBy: lead.personId, keyedBy: mate.personId, doneByName: 'Test qc-inspector' }, { record: { kind: 'shift-event' }, doneBy: mate.personId },
    ]);
    expect(idsOf(found['late'] ?? [], 'record')).not.toContain(onTime);
    expect(String(found['late']?.[0]?.['enteredAt']) > ended).toBe(true);
    expect(found['events']).toMatchObject([{ text: 'Gauge changed', category: 'equipment' }]);
    // The engineer set the counter up and is not of the crew.
    expect(found['notOfTheCrew']).toEqual([{ personId: engineer().personId, name: 'Test materials-engineer', records: 1 }]);
    // As known when the shift had just ended there was nothing late.
    const then = await log(shiftId, `?asKnownAt=${encodeURIComponent(String(before))}`);
    expect(then).toMatchObject({ lateTotal: 0, late: [], events: [], asKnownAt: before });
    expect(then['records']).toEqual([{ kind: 'counter-period', total: 1, late: 0, withdrawn: 0 }, { kind: 'inspection', total: 1, late: 0, withdrawn: 1 }]);
  });

  test('has the stops that reached into it, and what was handed over, taken over and is open', async () => {
    const weldProcedureId = await procedure();
    const seam = (event: string, observedAt: string): Promise<string> => entered(engineer(), 'seam-events', {
      stringId: stringId(), observedAt, event, from: { footageMm: 1_000 }, weldProcedureId, readings: [], cause: event === 'stop' ? 'Strip caught' : null,
    });
    await seam('stop', clock(3));
    await seam('restart', clock(5));
    const reaching = await seam('stop', clock(5, 50));
    await seam('restart', clock(6, 10));
    const within = await seam('stop', clock(9));
    await seam('restart', clock(9, 30));
    const lasting = await seam('stop', clock(13, 55));
    await seam('restart', clock(14, 30));
    await seam('stop', clock(15));

    const shiftId = await made('shifts', shift());
    const nextShiftId = await made('shifts', shift({ name: 'late', observedAt: clock(14), until: null, crew: crew(await api().signIn('qc-inspector')) }));
    expect((await log(shiftId)).open).toEqual(['no handover is on record']);
    const handoverId = await made('handovers', handover(shiftId, { nextShiftId }));
    expect((await log(shiftId)).open).toEqual([expect.stringMatching(/^the handover of .* was accepted by nobody$/)]);
    await made('handover-acceptances', accepted(handoverId, { items: [{ item: 1, accepted: true }, { item: 2, accepted: false, words: 'Since when?' }] }));

    const found = await log(shiftId);
    expect(found['stops']?.map(({ event, beganBefore, outlasts }) => [(event as Fields)['id'], beganBefore, outlasts])).toEqual([[reaching, true, false], [within, false, false], [lasting, false, true]]);
    expect(found['handovers']).toMatchObject([{ handover: { id: handoverId }, givenByName: 'Test qc-inspector', acceptedByName: 'Test qc-inspector', outcome: 'partly', acceptance: { doneBy: mate.personId } }]);
    expect(found.open).toEqual([expect.stringMatching(/^item 2 of the handover of .* was refused: Since when\?$/)]);
    const next = await log(nextShiftId);
    expect(next).toMatchObject({ handovers: [], received: [{ handover: { id: handoverId }, outcome: 'partly' }], open: ['the shift has no end on record', 'no handover is on record'] });
    expect(next['stops']?.map(({ outlasts }) => outlasts)).toEqual([false, true]);
  });

  test('tells who of the crew is named on another shift at the same time', async () => {
    const shiftId = await made('shifts', shift({ crew: crew(lead, mate) }));
    const question = await post('shifts', shift({ name: 'twice', observedAt: clock(13), until: clock(20), crew: crew(mate) }));
    const twice = String((await post('shifts', { ...shift({ name: 'twice', observedAt: clock(13), until: clock(20), crew: crew(mate) }), confirm: confirmed(question) })).body['id']);
    expect((await log(shiftId))['crew']).toMatchObject([{ personId: lead.personId, alsoOn: [] }, { personId: mate.personId, duty: 'Line operator', alsoOn: [{ kind: 'shift', id: twice, label: 'twice' }] }]);
    await withdraw('shifts', twice, 1);
    expect((await log(shiftId))['crew']).toMatchObject([{ alsoOn: [] }, { alsoOn: [] }]);
  });

  test('is asked of a shift that is, at an instant that can be', async () => {
    const ask = (path: string) => engineer().send('GET', `/api/shifts/${path}`);
    expect(await ask(`${uuidv7()}/log`)).toMatchObject({ status: 404 });
    expect(await ask('x/log')).toMatchObject({ status: 400 });
    const id = await made('shifts', shift());
    expect(await ask(`${id}/log?asKnownAt=x`)).toMatchObject({ status: 400, body: { errors: [{ field: 'asKnownAt' }] } });
    expect(await ask(`${id}/log?at=x`)).toMatchObject({ status: 400, body: { errors: [{ field: 'at' }] } });
    expect(await ask(`${id}/log?asKnownAt=2020-01-01T00:00:00Z`)).toMatchObject({ status: 404 });
  });
});

describe('open items', () => {
  const open = async (query = ''): Promise<Fields & { items: Fields[] }> => (await get('casing-strings', `${stringId()}/open-items${query}`)) as never;
  const said = ({ items }: { items: Fields[] }): unknown[] => items.map(({ what, words }) => [what, words]);

  const coil = async (name: string): Promise<string> => {
    const heatId = await made('heats', { observedAt: at('05:00'), number: `H-${uuidv7()}`, grade: 'S420MC' });
    const id = await made('coils', { observedAt: at('05:00'), number: `${name}-${uuidv7()}`, heatId, widthMm: '400.0', thicknessMm: '5.00', massKg: '7850' });
    await entered(engineer(), 'deviation-permits', { observedAt: at('05:00'), coilId: id, departure: 'Strip of a trial', limit: 'Trials only', validUntil: '2099-12-31T00:00:00Z' });
    return id;
  };

  test('are none on a string on which nothing is open, and no word that all is well', async () => {
    expect(await open()).toMatchObject({ items: [], cutOut: 0, cautions: expect.arrayContaining([expect.stringContaining('an empty list does not say that all is well')]) });
  });

  test('are what is not settled, with place and since when; settled, withdrawn or cut out it is gone', async () => {
    const rejected = await made('inspections', seen('08:00', { footageMm: 10_000 }, { verdict: 'rejected', doneBy: lead.personId }));
    const waiting = await made('inspections', seen('08:10', { footageMm: 20_000 }, { verdict: 'for-evaluation' }));
    await made('inspections', seen('08:20', { footageMm: 30_000 }));
    const mistaken = await made('inspections', seen('08:30', { footageMm: 40_000 }, { verdict: 'rejected' }));
    await withdraw('inspections', mistaken, 1);
    const found = { text: 'Thin band', method: 'gauge', instrument: 'UT-04', at: at('08:05'), by: lead.personId };
    const nonconformance = await made('nonconformances', {
      observedAt: at('08:05'), title: 'Thin band', severity: 'major', origin: 'line', stringId: stringId(), extents: [{ from: { footageMm: 9_000 }, to: { footageMm: 12_000 } }], extentBasis: 'measured',
      requirement: { document: 'Plan', revision: '2', clause: '4.3', limit: 'at least 4.75 mm' }, found, stage: 'open',
    });
    const shiftId = await made('shifts', shift());
    const about = { kind: 'inspection', id: waiting };
    const handoverId = await made('handovers', handover(shiftId, { items: [{ words: 'Evaluate the seam', about, footageMm: 20_000 }, { words: 'Gauge away' }] }));

    const all = await open();
    expect(said(all)).toEqual([
      ['handover-item', 'Evaluate the seam (handed over, accepted by nobody)'], ['handover-item', 'Gauge away (handed over, accepted by nobody)'],
      ['inspection', 'seam: rejected'], ['nonconformance', 'Thin band (major, open)'], ['inspection', 'seam: for evaluation'],
    ]);
    expect(all.items[0]).toMatchObject({ record: { kind: 'handover', id: handoverId }, footage: [{ fromMm: 20_000, toMm: 20_001 }], about, doneByName: 'Test qc-inspector' });
    expect(all.items[1]).toMatchObject({ footage: [], about: null });
    expect(all.items[2]).toMatchObject({ record: { id: rejected }, footage: [{ fromMm: 10_000, toMm: 10_001 }], since: '2026-03-02T08:00:00.000000Z', doneBy: lead.personId, nonconformances: [{ kind: 'nonconformance', id: nonconformance }] });
    expect(all.items[3]).toMatchObject({ footage: [{ fromMm: 9_000, toMm: 12_000 }], nonconformances: [] });
    const { recordedAt } = await get('handovers', handoverId);

    // A closed nonconformance on the same footage settles nothing by itself: the link to it stays.
    await amend('nonconformances', nonconformance, 1, { stage: 'closed', disposition: { kind: 'reject', text: 'Cut out', approvedBy: engineer().personId, approvedAt: at('09:00') } });
    await made('handover-acceptances', accepted(handoverId, { items: [{ item: 1, accepted: true }, { item: 2, accepted: false, words: 'Since when?' }] }));
    expect(said(await open())).toEqual([
      ['handover-item', 'Evaluate the seam (taken over by Test qc-inspector, not settled)'], ['handover-item', 'Gauge away (refused: Since when?)'],
      ['inspection', 'seam: rejected'], ['inspection', 'seam: for evaluation'],
    ]);
    expect((await open()).items[2]).toMatchObject({ nonconformances: [{ id: nonconformance, version: 2 }] });
    await entered(engineer(), 'cut-outs', cutOut('10:00', { footageMm: 9_500 }, { footageMm: 10_500 }));
    await amend('inspections', waiting, 1, { verdict: 'accepted' });
    // Settled, what was taken over of it is gone too.
    expect(await open()).toMatchObject({ items: [{ what: 'handover-item' }], cutOut: 1 });
    // As it was known.
    expect(said(await open(`?asKnownAt=${encodeURIComponent(String(recordedAt))}`))).toEqual(said(all));
  });

  test('are splices without a good verdict or a confirmed place, and a stop that did not end', async () => {
    const [leavingCoilId, enteringCoilId] = [await coil('A'), await coil('B')];
    const splice = (number: string, footageMm: number, changes: Fields): Promise<string> => entered(engineer(), 'splices', {
      observedAt: at('07:00'), stringId: stringId(), number, leavingCoilId, enteringCoilId, angleDeg: '90', hand: 'square', from: { footageMm }, to: { footageMm: footageMm + 10 },
      confirmed: true, verdict: 'accepted', ...changes,
    });
    await splice('S-1', 10_000, {});
    const doubtful = await splice('S-2', 20_000, { verdict: 'in-doubt', doubt: 'Film unclear' });
    const predicted = await splice('S-3', 30_000, { verdict: 'open', confirmed: false });
    const weldProcedureId = await procedure();
    const seam = (event: string, clockTime: string): Promise<string> => entered(engineer(), 'seam-events', {
      stringId: stringId(), observedAt: at(clockTime), event, from: { footageMm: 40_000 }, weldProcedureId, readings: [], cause: event === 'stop' ? 'Strip caught' : null,
    });
    await seam('stop', '06:00');
    await seam('restart', '06:30');
    const standing = await seam('stop', '09:00');
    const found = await open();
    expect(found.items.map(({ what, record, words }) => [what, (record as Fields)['id'], words])).toEqual([
      ['splice', doubtful, 'in doubt: Film unclear'], ['splice', predicted, 'no verdict yet; its place is predicted, and was not confirmed'], ['stop', standing, 'the line stands: Strip caught'],
    ]);
    expect(found.items[2]).toMatchObject({ since: '2026-03-02T09:00:00.000000Z', footage: [{ fromMm: 40_000, toMm: 40_001 }] });
    await seam('restart', '10:00');
    expect((await open()).items).toHaveLength(2);
  });

  test('are what was taken over and is about nothing that can be followed, until that shift hands over in turn', async () => {
    const shiftId = await made('shifts', shift());
    const nextShiftId = await made('shifts', shift({ name: 'late', observedAt: clock(14), until: clock(22), crew: crew(mate) }));
    const id = await made('handovers', handover(shiftId, { nextShiftId, items: [{ words: 'Gauge away' }] }));
    await made('handover-acceptances', accepted(id, { items: [{ item: 1, accepted: true }] }));
    expect(said(await open())).toEqual([['handover-item', 'Gauge away (taken over by Test qc-inspector, not settled)']]);
    await made('handovers', handover(nextShiftId, { observedAt: clock(21, 50), doneBy: mate.personId, items: [{ words: 'Gauge is back, to be checked' }] }));
    expect(said(await open())).toEqual([['handover-item', 'Gauge is back, to be checked (handed over, accepted by nobody)']]);
  });

  test('are a stop that did not end, though the pipe at its place was cut out while the line stands', async () => {
    await entered(engineer(), 'seam-events', {
      stringId: stringId(), observedAt: at('09:00'), event: 'stop', from: { footageMm: 10_000 }, weldProcedureId: await procedure(), readings: [], cause: 'Strip caught',
    });
    await made('counter-periods', period());
    await made('counter-readings', reading('09:00', '40000'));
    await entered(engineer(), 'cut-outs', cutOut('10:00', { footageMm: 9_500 }, { footageMm: 10_500 }));
    expect(await open()).toMatchObject({ items: [{ what: 'stop', words: 'the line stands: Strip caught' }], cutOut: 0 });
  });

  test('are welds, steps, examinations and destructive tests that did not come out well, until they are settled', async () => {
    const [leavingCoilId, enteringCoilId] = [await coil('A'), await coil('B')];
    await entered(engineer(), 'coil-segments', { observedAt: at('05:20'), stringId: stringId(), coilId: leavingCoilId, from: { footageMm: 0 }, to: { footageMm: 10_000 }, stripFromMm: 0, stripToMm: 10_000, runs: 'head-first' });
    const spliceId = await entered(engineer(), 'splices', {
      observedAt: at('05:30'), stringId: stringId(), number: 'S-1', leavingCoilId, enteringCoilId, angleDeg: '90', hand: 'square', from: { footageMm: 10_000 }, to: { footageMm: 10_010 }, confirmed: true, verdict: 'accepted',
    });
    const weldProcedureId = await made('weld-procedures', {
      observedAt: at('05:00'), number: `WP-${uuidv7().slice(-8)}`, revision: 1, title: 'Splice', purpose: 'splice', process: '135', effectiveFrom: '2020-01-01', ranges: [{ variable: 'current', min: '160', max: '200', unit: 'A' }], lists: [],
    });
    const welded = (clockTime: string, printed: string): Promise<string> => entered(engineer(), 'welds', {
      observedAt: at(clockTime), stringId: stringId(), spliceId, weldProcedureId, readings: [{ variable: 'current', printed, unit: 'A' }], chosen: [],
    });
    const step = (clockTime: string, outcome: string): Promise<string> => entered(engineer(), 'splice-steps', {
      observedAt: at(clockTime), stringId: stringId(), spliceId, stage: 'station-sighting', station: 'UT', outcome, readings: [], examinations: [], coupons: [], photoSha256s: [],
    });
    const examined = (clockTime: string, toMm: number, outcome: string): Promise<string> => entered(engineer(), 'examinations', {
      stringId: stringId(), observedAt: at(clockTime), from: { footageMm: 2_000 }, to: { footageMm: toMm }, method: 'UT', technique: 'UT-04 rev 2', outcome, standsInFor: [], photoSha256s: [],
      seen: outcome === 'accepted' ? null : 'Echo at the bead',
    });
    const sample = (number: string): Promise<string> => entered(engineer(), 'test-samples', {
      observedAt: at('06:30'), stringId: stringId(), number: `${number}-${uuidv7()}`, coilId: leavingCoilId, coilEnd: 'head', orientation: 'full-section',
    });
    const tested = async (number: string, clockTime: string, outcome: string, followsTestId: string | null): Promise<string> => entered(engineer(), 'destructive-tests', {
      observedAt: at(clockTime), stringId: stringId(), testSampleId: await sample(number), kind: 'flattening', method: 'ISO 8492', laboratory: 'Site laboratory', stated: 'Looked at', outcome, followsTestId,
    });
    const [weld, held, rejected, failed] = [await welded('06:00', '230'), await step('07:00', 'held'), await examined('08:00', 3_000, 'rejected'), await tested('T1', '09:00', 'fail', null)];
    const found = await open();
    expect(found.items).toMatchObject([
      { what: 'weld', record: { kind: 'weld', id: weld }, words: expect.stringContaining('outside its procedure: 230'), footage: [{ fromMm: 10_000 }] },
      { what: 'splice-step', record: { kind: 'splice-step', id: held }, words: 'splice S-1, station-sighting at UT: held' },
      { what: 'examination', record: { kind: 'examination', id: rejected }, words: 'UT, rejected: Echo at the bead', footage: [{ fromMm: 2_000, toMm: 3_000 }] },
      { what: 'destructive-test', record: { kind: 'destructive-test', id: failed }, words: expect.stringMatching(/^flattening, open: .* failed, 2 more to pass/), footage: [{ fromMm: 0, toMm: 10_000 }] },
    ]);
    expect(found['cautions']).toContainEqual(expect.stringMatching(/^Not looked at here: doubt over instruments/));

    await examined('10:00', 2_400, 'accepted');
    expect((await open()).items[2]).toMatchObject({ what: 'examination', footage: [{ fromMm: 2_400, toMm: 3_000 }] });
    await examined('10:10', 3_000, 'accepted');
    await step('10:20', 'accepted');
    await welded('10:30', '180');
    for (const number of ['T2', 'T3']) await tested(number, '11:00', 'pass', failed);
    expect((await open()).items).toEqual([]);
  });

  test('are asked of a string that is', async () => {
    const ask = (path: string) => engineer().send('GET', `/api/casing-strings/${path}`);
    expect(await ask(`${uuidv7()}/open-items`)).toMatchObject({ status: 404 });
    expect(await ask(`${stringId()}/open-items?asKnownAt=x`)).toMatchObject({ status: 400 });
    expect(await ask(`${stringId()}/open-items?mine=x`)).toMatchObject({ status: 400, body: { errors: [{ field: 'mine' }] } });
  });
});

describe('what changed', () => {
  interface Changes extends Fields {
    readonly changes: Fields[];
    readonly counts: Fields[];
    readonly next: string | null;
  }
  const changed = async (by: SignedIn, query = ''): Promise<Changes> => {
    const answer = await by.send<Changes>('GET', `/api/casing-strings/${stringId()}/changes${query}`);
    expect(answer.status).toBe(200);
    return answer.body;
  };
  const told = ({ changes }: Changes): unknown[] => changes.map(({ record, what, isLate }) => [(record as Fields)['kind'], what, isLate]);
  const since = (instant: unknown, more = ''): string => `?since=${encodeURIComponent(String(instant))}${more}`;

  test('since my last shift is told from the end of my own, which is named; who was on none is asked for an instant', async () => {
    const [one, two] = [await api().signIn('qc-inspector'), await api().signIn('materials-engineer')];
    const early = await made('shifts', shift({ name: 'early', observedAt: ago(300), until: ago(200), crew: crew(one) }));
    const twos = await made('shifts', shift({ name: 'second', observedAt: ago(200), until: null, crew: crew(two) }));
    const mid = await made('inspections', seen('00:00', { footageMm: 1_000 }, { observedAt: ago(150) }));
    await new Promise((resolve) => setTimeout(resolve, 5));
    const ended = new Date().toISOString();
    await amend('shifts', twos, 1, { until: ended });
    await amend('inspections', mid, 1, { verdict: 'rejected', note: 'Crack' });
    const running = await made('shifts', shift({ name: 'third', observedAt: ago(0), until: null, crew: crew(one) }));
    const paper = await made('inspections', seen('00:00', { footageMm: 2_000 }, { observedAt: ago(160), source: 'paper' }));

    const ones = await changed(one);
    expect(ones).toMatchObject({ sinceShift: { shift: { id: early, label: 'early' } }, ownShiftsWithoutEnd: [{ id: running }], asked: { since: null }, next: null });
    // All was entered after the lead's shift had ended, the shift itself too, and the string.
    expect(told(ones)).toEqual([
      ['casing-string', 'entered', true], ['shift', 'entered', true], ['shift', 'entered', false], ['inspection', 'entered', false], ['shift', 'amended', false], ['inspection', 'amended', false],
      ['shift', 'entered', false], ['inspection', 'entered', false],
    ]);
    const mine = await changed(two);
    expect(mine).toMatchObject({ since: ended.replace('Z', '000Z'), sinceShift: { shift: { id: twos, version: 2 }, ended: ended.replace('Z', '000Z') }, ownShiftsWithoutEnd: [] });
    expect(told(mine)).toEqual([['shift', 'amended', false], ['inspection', 'amended', false], ['shift', 'entered', false], ['inspection', 'entered', true]]);
    expect(mine.changes[1]).toMatchObject({
      record: { id: mid, version: 2 }, reason: 'Taped again over 20 m.', doneBy: engineer().personId, keyedByName: 'Test materials-engineer',
      changes: [{ field: 'verdict', before: 'accepted', after: 'rejected' }, { field: 'note', before: null, after: 'Crack' }],
    });
    expect(mine.changes[3]).toMatchObject({ record: { id: paper }, what: 'entered', changes: [] });
    expect(mine.counts).toEqual([
      { kind: 'inspection', entered: 1, amended: 1, voided: 0, derivedAgain: 0 }, { kind: 'shift', entered: 1, amended: 1, voided: 0, derivedAgain: 0 },
    ]);

    const nobodys = await visitor.send('GET', `/api/casing-strings/${stringId()}/changes`);
    expect(nobodys).toMatchObject({ status: 422, body: { type: 'urn:everymetre:problem:no-own-shift', errors: [{ field: 'since', limit: expect.stringContaining('no shift of yours') }] } });
    expect(await changed(visitor, since(ended))).toMatchObject({ sinceShift: null, since: ended.replace('Z', '000Z'), changes: mine.changes });
    // A shift that was withdrawn is nobody's last.
    await withdraw('shifts', twos, 2);
    expect(await two.send('GET', `/api/casing-strings/${stringId()}/changes`)).toMatchObject({ status: 422 });
  });

  test('tells positions that were derived again apart, and lists them when asked', async () => {
    const periodId = await made('counter-periods', period());
    await made('counter-readings', reading('09:00', '30000'));
    const ids = [await made('inspections', seen('08:00', { counterReading: '10000' })), await made('inspections', seen('08:10', { counterReading: '20000' }))];
    const { recordedAt } = await get('inspections', ids[1] ?? '');
    const lone = await made('inspections', seen('08:20', { footageMm: 100 }));
    await amend('counter-periods', periodId, 1, { scaleMmPerCount: '1.0100' });
    await withdraw('inspections', lone, 1);
    const short = await changed(engineer(), since(recordedAt));
    expect(told(short)).toEqual([['inspection', 'entered', true], ['inspection', 'entered', true], ['counter-period', 'amended', false], ['inspection', 'voided', false]]);
    expect(short.counts).toEqual([
      { kind: 'counter-period', entered: 0, amended: 1, voided: 0, derivedAgain: 0 }, { kind: 'inspection', entered: 2, amended: 0, voided: 1, derivedAgain: 2 },
    ]);
    expect(short.changes[3]).toMatchObject({ reason: 'Entered by mistake.', changes: [{ field: 'state', before: 'active', after: 'void' }] });
    const whole = await changed(engineer(), since(recordedAt, '&derivedAgain=listed'));
    const derived = whole.changes.filter(({ what }) => what === 'derived-again');
    expect(derived.map(({ record }) => (record as Fields)['id']).sort()).toEqual([...ids].sort());
    expect(derived[0]).toMatchObject({ reason: expect.stringContaining('Position derived again because'), changes: expect.arrayContaining([{ field: 'footageFromMm', before: 10_000, after: 10_100 }]) });
    expect(whole.changes).toHaveLength(short.changes.length + 2);
    // Nobody passes an amendment of their own off as one of these.
    expect(await amend('inspections', ids[0] ?? '', 2, { reason: 'Position derived again because I say so', verdict: 'rejected' })).toMatchObject({ status: 400, body: { errors: [{ field: 'reason' }] } });
  });

  test('is paged without a gap or a repeat, and as known at an instant is what it was', async () => {
    for (let number = 1; number <= 7; number += 1) await made('inspections', seen('08:00', { footageMm: number * 1_000 }));
    const all = await changed(engineer(), since('2026-01-01T00:00:00Z'));
    expect(all.changes).toHaveLength(8);
    for (const limit of [1, 3, 4, 8]) {
      const pages: Changes[] = [];
      for (let next: string | null = ''; next !== null; next = pages.at(-1)?.next ?? null) {
        pages.push(await changed(engineer(), since('2026-01-01T00:00:00Z', `&limit=${limit}${next === '' ? '' : `&after=${encodeURIComponent(next)}`}`)));
      }
      expect(pages.flatMap(({ changes }) => changes)).toEqual(all.changes);
      expect(pages).toHaveLength(Math.ceil(8 / limit));
    }
    const fourth = String(all.changes[3]?.['recordedAt']);
    await made('nonconformances', {
      observedAt: at('08:05'), title: 'Thin band', severity: 'major', origin: 'line', stringId: stringId(), extents: [{ from: { footageMm: 9_000 } }], extentBasis: 'measured',
      requirement: { document: 'Plan', revision: '2', clause: '4.3', limit: 'x' }, found: { text: 'x', method: 'x', instrument: 'x', at: at('08:05'), by: lead.personId }, stage: 'open',
    });
    expect((await changed(engineer(), since('2026-01-01T00:00:00Z'))).changes.at(-1)).toMatchObject({ record: { kind: 'nonconformance' }, what: 'entered' });
    expect((await changed(engineer(), since('2026-01-01T00:00:00Z', `&asKnownAt=${encodeURIComponent(fourth)}`))).changes).toEqual(all.changes.slice(0, 4));
    expect((await changed(engineer(), since(fourth))).changes.slice(0, 5)).toMatchObject(all.changes.slice(3).map(({ record }) => ({ record })));
  });

  test('walks every kind of record that names a string', async () => {
    const rows: { name: string }[] = await api().owner.query(
      `select s.table_name as name from information_schema.columns s join information_schema.columns k using (table_schema, table_name)
        where table_schema = 'public' and s.column_name = 'string_id' and k.column_name = 'known_until' order by 1`,
    );
    const walked = STRING_KINDS.map(({ entity }) => api().dataSource.getMetadata(entity).tableName);
    // A line computer is known to few, and no record of work.
    expect([...walked, 'device'].sort()).toEqual(rows.map(({ name }) => name).sort());
    const readers = api().app.get(RecordReaders);
    for (const kind of [...STRING_KINDS, STRING_KIND!]) expect(readers.of(kind.entity).entity).toBe(kind.entity);
  });

  test('is found through indexes: what is read does not grow with what the string holds', async () => {
    const id = stringId();
    await api().owner.query(`
      insert into inspection (id, version, known_from, entered_at, observed_at, state, done_by, keyed_by, source, marks, request_id, digest, string_id, given, span, from_u_mm, to_u_mm, predicted,
        rests_on, kind, characteristic, verdict)
      select gen_random_uuid(), 1, t, t, t, 'active', $2::uuid, $2::uuid, 'keyed', '[]', 'bulk', '', $1::uuid, '{"from":{"footageMm":1},"to":null}', '[1,2)', 0, 0, false, '[]', 'visual', 'seam', 'accepted'
        from (select '2026-01-01T00:00:00Z'::timestamptz + n * interval '1 second' as t from generate_series(1, 20000) n) times,
             (select set_config('app.actor', $2::text, false), set_config('app.request', 'bulk', false)) as actor`, [id, lead.personId]);
    await api().owner.query('analyze inspection');
    const before = await readOf('inspection');
    const found = await changed(engineer(), since('2026-01-01T05:30:00Z', '&limit=100'));
    expect(found.changes).toHaveLength(100);
    expect(found.counts).toContainEqual({ kind: 'inspection', entered: 201, amended: 0, voided: 0, derivedAgain: 0 });
    const after = await readOf('inspection');
    // Counted are 201, looked through for a page 101, and read whole 101: not the 20,000.
    expect(after.scanned - before.scanned).toBe(0);
    expect(after.fetched - before.fetched).toBeGreaterThan(200);
    expect(after.fetched - before.fetched).toBeLessThan(1_000);
  });

  /** How many rows of a table were read so far by scans of the whole, and through indexes, on all connections of the program. */
  async function readOf(table: string): Promise<{ scanned: number; fetched: number }> {
    await Promise.all(Array.from({ length: 20 }, () => api().dataSource.query('select pg_stat_force_next_flush(), pg_sleep(0.05)')));
    const rows: { scanned: string; fetched: string }[] = await api().owner.query('select seq_tup_read as scanned, idx_tup_fetch as fetched from pg_stat_user_tables where relname = $1', [table]);
    return { scanned: Number(rows[0]?.scanned), fetched: Number(rows[0]?.fetched) };
  }

  test('is asked with an instant that can be, about a string that is', async () => {
    const ask = (path: string) => engineer().send('GET', `/api/casing-strings/${path}`);
    const wrong = await ask(`${stringId()}/changes?since=x&limit=0&after=x&derivedAgain=x&station=x`);
    expect([wrong.status, fieldsRefused(wrong)]).toEqual([400, ['station', 'since', 'after', 'limit', 'derivedAgain']]);
    expect(await ask(`${uuidv7()}/changes?since=2026-01-01T00:00:00Z`)).toMatchObject({ status: 404 });
    expect(await ask('x/changes')).toMatchObject({ status: 400 });
  });
});
