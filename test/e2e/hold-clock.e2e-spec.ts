import { afterEach, beforeAll, describe, expect, test } from '@jest/globals';
import { startTestApi } from '../setup/api.js';
import { EventListener, type HeardEvent } from '../setup/event-listener.js';
import { inspectedLine } from './indications.factory.js';
import { fieldsRefused, type Fields } from './line.factory.js';

const { api, engineer, stringId, made, post, reading, seenAt, evaluation, cutOut, ask } = inspectedLine();

const at = (clock: string): string => `2026-03-02T${clock}Z`;
const SECOND = 1000;
/** For what has to come, however busy the machine is. */
const PATIENCE = 10 * SECOND;

interface Item extends Fields {
  readonly record: { readonly id: string };
  readonly state: string;
  readonly leftMm: number | null;
  readonly stations: Fields[];
  readonly dispositions: { readonly kind: string }[];
}
interface Clock extends Fields {
  readonly items: Item[];
  readonly line: Fields;
  readonly cautions: string[];
}

const clock = async (query = ''): Promise<Clock> => (await ask(`hold-clock${query}`)).body as Clock;

/** 4.8 to 6 m/min: at 06:14 the line has made 25 m. */
async function running(): Promise<void> {
  for (const [clocked, counted] of [['06:10', '4000'], ['06:11', '9000'], ['06:12', '15000'], ['06:13', '20200'], ['06:14', '25000']] as const) {
    await made('counter-readings', reading(clocked, counted));
  }
}

describe('the hold clock', () => {
  test('tells of each open thing where it is, metres and minutes with their spread, and what can still be done; soonest first', async () => {
    await running();
    const [far, near, strip] = [await made('indications', seenAt(20_000)), await made('indications', seenAt(5_000)), await made('indications', seenAt(26_000))];
    const now = await clock('?at=2026-03-02T06:14:00Z');
    expect(now.items.map(({ record, what, state, where, leftMm, minutes }) => ({ id: record.id, what, state, where, leftMm, minutes }))).toEqual([
      { id: near, what: 'indication', state: 'running-out', where: 'on-the-line', leftMm: 10_000, minutes: { least: '1.6', central: '2.0', greatest: '2.1' } },
      { id: far, what: 'indication', state: 'running-out', where: 'on-the-line', leftMm: 25_000, minutes: { least: '4.1', central: '5.2', greatest: '5.3' } },
      { id: strip, what: 'indication', state: 'running-out', where: 'not-made', leftMm: 31_000, minutes: { least: '5.1', central: '6.4', greatest: '6.5' } },
    ]);
    expect(now).toMatchObject({
      ahead: 3, past: 0, cutOut: 0, next: null, at: at('06:14:00.000000'),
      line: { state: 'running', speedMPerMin: '4.80', leastMPerMin: '4.80', greatestMPerMin: '6.00', speedReadings: 5, overS: 240, readingAgeS: 0, staleAfterS: 600, because: 'the line runs at 4.80 m/min' },
    });
    expect(now.items[2]!.stations.map(({ name, role, leftMm }) => [name, role, leftMm])).toEqual([['weld point', 'weld-point', 1_000], ['hang-off', 'hang-off', 31_000]]);
    expect(now.items[1]!.dispositions.map(({ kind }) => kind)).toEqual(['further-inspection', 'rework', 'repair', 'reject', 'use-as-is-under-concession', 'regrade']);
    expect(now.items[2]!.dispositions.map(({ kind }) => kind)).toContain('return-to-supplier');
    expect(now.cautions[0]).toBe('This is a record, not an interlock: nothing here stops the line. Anyone on shift may stop it.');
  });

  test('puts what is past behind all others, a page at a time, leaves out what was cut out, and forgets what was settled', async () => {
    await running();
    const [gone, near, far, cut] = [await made('indications', seenAt(1_000)), await made('indications', seenAt(9_000)), await made('indications', seenAt(20_000)), await made('indications', seenAt(12_000))];
    await made('cut-outs', cutOut('06:14', { footageMm: 11_900 }, { footageMm: 12_200 }));
    for (const [clocked, counted] of [['06:15', '31000'], ['06:16', '37000']] as const) await made('counter-readings', reading(clocked, counted));
    const first = await clock('?at=2026-03-02T06:16:00Z&limit=2');
    expect(first).toMatchObject({ ahead: 2, past: 1, cutOut: 1, next: '2' });
    expect(first.items.map(({ record, leftMm }) => [record.id, leftMm])).toEqual([[near, 2_300], [far, 13_000]]);
    const { items: [last], next } = await clock('?at=2026-03-02T06:16:00Z&limit=2&after=2');
    expect([last!.record.id, last!.state, last!['where'], next]).toEqual([gone, 'past-the-hang-off', 'lead-end', null]);
    expect(JSON.stringify(first)).not.toContain(cut);
    await made('indication-evaluations', evaluation(near, { verdict: 'accept' }));
    expect((await clock('?at=2026-03-02T06:16:00Z')).items.map(({ record }) => record.id)).toEqual([far, gone]);
  });

  test('says plainly that counter data are stale, and gives no number then', async () => {
    await running();
    await made('indications', seenAt(20_000));
    const stale = await clock('?at=2026-03-02T06:25:00Z');
    expect(stale).toMatchObject({
      line: { state: 'stale', speedMPerMin: null, readingAgeS: 660 },
      items: [{ state: 'stale', where: 'not-known', leftMm: null, plusMinusMm: null, minutes: null, stations: [], dispositions: [], because: expect.stringMatching(/^the last counter reading was 11 min old/) }],
    });
    expect(stale.cautions[1]).toMatch(/^Counter data are stale: the last counter reading is 660 s old/);
    expect((await clock('?at=2026-03-02T06:24:00Z')).line).toMatchObject({ state: 'running' });
  });

  test('is told as known at an earlier instant, and refuses what it cannot read', async () => {
    await running();
    const { body: [{ now } = { now: '' }] } = { body: await api().dataSource.query<{ now: string }[]>("select to_char(clock_timestamp() at time zone 'UTC', 'YYYY-MM-DD\"T\"HH24:MI:SS.US\"Z\"') as now") };
    await made('indications', seenAt(20_000));
    expect((await clock(`?at=2026-03-02T06:14:00Z&asKnownAt=${now}`))).toMatchObject({ ahead: 0, asKnownAt: now, line: { state: 'running' } });
    expect(fieldsRefused(await ask('hold-clock?limit=0&after=x&at=now&who=me'))).toEqual(['who', 'at', 'after', 'limit']);
    expect(await engineer().send('GET', '/api/casing-strings/0197a2c4-5b00-7d31-9c11-3a5d0e7f1bff/hold-clock')).toMatchObject({ status: 404 });
  });

  test('lists splices that were not accepted', async () => {
    await running();
    const heatId = await made('heats', { observedAt: at('05:00:00'), number: `H-${stringId().slice(-8)}`, grade: 'S420' });
    const coil = async (name: string): Promise<string> => {
      const id = await made('coils', { observedAt: at('05:00:00'), number: `${name}-${stringId().slice(-8)}`, heatId, widthMm: '383.0', thicknessMm: '5.00', massKg: '1000' });
      await made('deviation-permits', { observedAt: at('05:00:00'), coilId: id, departure: 'Strip of a trial: no papers are kept of it.', limit: 'Trials only', validUntil: '2099-12-31T00:00:00Z' });
      return id;
    };
    const [leavingCoilId, enteringCoilId] = [await coil('A'), await coil('B')];
    const splice = (number: string, footageMm: number, verdict: string): Promise<string> => made('splices', {
      stringId: stringId(), observedAt: at('06:13:00'), number, leavingCoilId, enteringCoilId, from: { footageMm }, angleDeg: '45', hand: 'left', confirmed: true, verdict,
    });
    const id = await splice('S-1', 22_000, 'open');
    const { items } = await clock('?at=2026-03-02T06:14:00Z');
    expect(items).toMatchObject([{ what: 'splice', record: { kind: 'splice', id, label: 'S-1' }, open: 'no verdict yet', where: 'on-the-line' }]);
    expect(items[0]!.leftMm).toBeGreaterThan(26_500);
  });
});

describe('the live hold clock', () => {
  let url: string;
  const listeners: EventListener[] = [];
  beforeAll(async () => {
    url = await api().listen();
  });
  afterEach(() => {
    for (const one of listeners.splice(0)) one.close();
  });

  async function listen(headers: Record<string, string> = {}, token = engineer().token, id = stringId()): Promise<EventListener> {
    const listener = await EventListener.open(`${url}/api/casing-strings/${id}/hold-clock/live`, { authorization: `Bearer ${token}`, ...headers });
    listeners.push(listener);
    return listener;
  }

  const ago = (ms: number): string => new Date(Date.now() - ms).toISOString();
  async function readNow(counted: number, msAgo = 0): Promise<string> {
    const content = reading('00:00', String(counted), { observedAt: ago(msAgo) });
    await made('counter-readings', content);
    return String(content['id']);
  }
  const clockIn = ({ data }: HeardEvent): Clock => data as Clock;
  const read = (id: string) => (event: HeardEvent): boolean => event.event === 'clock' && (clockIn(event).line['lastReading'] as Fields | null)?.['id'] === id;
  const lists = (id: string) => (event: HeardEvent): boolean => event.event === 'clock' && clockIn(event).items.some(({ record }) => record.id === id);

  test('gives its whole state at once, and within a second what a reading makes of it', async () => {
    await readNow(20_000, 60_000);
    const id = await made('indications', seenAt(15_000));
    const listener = await listen();
    expect([listener.status, listener.response.headers['content-type'], listener.response.headers['cache-control']]).toEqual([200, 'text/event-stream; charset=utf-8', 'no-store']);
    const first = await listener.until(lists(id), PATIENCE);
    expect([listener.retryMs, clockIn(first).line['state'], first.id]).toEqual([2000, 'stale', clockIn(first)['at']]);

    const begun = performance.now();
    const readingId = await readNow(25_000);
    const event = await listener.until(read(readingId), PATIENCE);
    expect(event.heardAt - begun).toBeLessThan(SECOND);
    // 10 m past the weld point of 30 m, less what ran in the moments since, at 5 m/min.
    const [item] = clockIn(event).items;
    expect(item).toMatchObject({ record: { id }, state: 'running-out', where: 'on-the-line', stations: [{ role: 'hang-off' }] });
    expect(item!.leftMm).toBeGreaterThan(19_900);
    expect(item!.leftMm).toBeLessThanOrEqual(20_000);
    expect(clockIn(event)).toEqual({ ...(await clock()), at: clockIn(event)['at'], line: expect.anything(), items: expect.anything() });
  });

  test('hears of any record of the string, and gives a burst as one state', async () => {
    const listener = await listen();
    await listener.until(({ event }) => event === 'clock', PATIENCE);
    const id = await made('indications', seenAt(15_000));
    await listener.until(lists(id), PATIENCE);
    const open = listener.events.length;
    await made('indication-evaluations', evaluation(id, { verdict: 'accept' }));
    await listener.until((event) => !lists(id)(event), PATIENCE, open);
    const before = listener.events.length;
    const readings = Array.from({ length: 200 }, (_, index) => reading('00:00', String(30_000 + index), { observedAt: ago(200 - index) }));
    expect((await post('counter-readings/batch', { id: undefined, readings })).status).toBe(201);
    await listener.until(read(String(readings.at(-1)?.['id'])), PATIENCE);
    expect(listener.events.length - before).toBeLessThanOrEqual(2);
  });

  test('a listener that connects again has missed nothing', async () => {
    const first = await listen();
    const { id: lastId } = await first.until(({ event }) => event === 'clock', PATIENCE);
    first.close();
    const id = await made('indications', seenAt(15_000));
    const again = await listen({ 'last-event-id': lastId ?? '' });
    const whole = await again.until(({ event }) => event === 'clock', PATIENCE);
    expect([lists(id)(whole), again.events.indexOf(whole), String(whole.id) > String(lastId)]).toEqual([true, 0, true]);
  });

  test('says by itself when counter data get stale, with nobody writing', async () => {
    await readNow(20_000, 660_000);
    const lastId = await readNow(25_000, 592_000);
    await made('indications', seenAt(15_000));
    const listener = await listen();
    expect(clockIn(await listener.until(read(lastId), PATIENCE))).toMatchObject({ line: { state: 'running' }, items: [{ state: 'running-out' }] });
    const stale = await listener.until(({ event }) => event === 'stale', 2 * PATIENCE);
    expect(stale.data).toMatchObject({ lastReading: { id: lastId }, staleAfterS: 600, because: expect.stringMatching(/^the last counter reading is 60\d s old/) });
    expect(clockIn(await listener.until(({ event }) => event === 'clock', PATIENCE, listener.events.indexOf(stale)))).toMatchObject({ line: { state: 'stale' }, items: [{ state: 'stale', leftMm: null, minutes: null }] });
  });

  test('is for those who may ask, of strings that there are', async () => {
    const device = await api().signIn();
    expect((await listen({}, device.token)).status).toBe(403);
    expect((await listen({ authorization: '' })).status).toBe(401);
    expect((await listen({}, engineer().token, '0197a2c4-5b00-7d31-9c11-3a5d0e7f1bff')).status).toBe(404);
    expect((await listen({}, engineer().token, 'x')).status).toBe(400);
  });

  test('is forgotten with its last listener, and by who asks for the head alone', async () => {
    const watched = async (): Promise<number> => (await api().owner.query<unknown[]>('select 1 from string_watch where string_id = $1', [stringId()])).length;
    const until = async (count: number): Promise<void> => {
      const end = performance.now() + PATIENCE;
      while ((await watched()) !== count && performance.now() < end) await new Promise((resolve) => { setTimeout(resolve, 20); });
      expect(await watched()).toBe(count);
    };
    const [one, other] = [await listen(), await listen()];
    await until(1);
    one.close();
    const head = await fetch(`${url}/api/casing-strings/${stringId()}/hold-clock/live`, { method: 'HEAD', headers: { authorization: `Bearer ${engineer().token}` } });
    expect(head.status).toBe(200);
    await made('indications', seenAt(15_000));
    await other.until(({ data }) => (data as Clock).items.length === 1, PATIENCE);
    other.close();
    await until(0);
  });

  test('ends with the session', async () => {
    const guest = await api().signIn('auditor');
    const [own, others] = [await listen({}, guest.token), await listen()];
    await Promise.all([own, others].map((one) => one.until(({ event }) => event === 'clock', PATIENCE)));
    expect((await guest.send('POST', '/api/sign-out')).status).toBe(204);
    await own.ended(PATIENCE);
    expect([own.last?.event, others.isOver]).toEqual(['ended', false]);
    await made('indications', seenAt(15_000));
    await others.until(({ data }) => (data as Clock).items.length === 1, PATIENCE);
  });

  test('hears again when its connection to the database was killed, and has what it missed', async () => {
    const listener = await listen();
    await listener.until(({ event }) => event === 'clock', PATIENCE);
    const killed: unknown[] = await api().owner.query("select pg_terminate_backend(pid) from pg_stat_activity where application_name = 'everymetre string news' and datname = current_database()");
    expect(killed).toHaveLength(1);
    const missed = await readNow(25_000);
    await listener.until(read(missed), PATIENCE);
    const later = await readNow(25_100);
    await listener.until(read(later), PATIENCE);
  });

  test('hears what a transaction wrote that began before anybody listened', async () => {
    const id = await made('indications', seenAt(15_000));
    const columns = await columnsOf('indication');
    const runner = api().owner.createQueryRunner();
    await runner.startTransaction();
    try {
      await runner.query("select set_config('app.actor', $1, true), set_config('app.request', 'test', true)", [engineer().personId]);
      await runner.query('update indication set known_until = clock_timestamp() where id = $1 and known_until is null', [id]);
      await runner.query(
        `insert into indication (${columns}) select ${columns} from (
           select (jsonb_populate_record(i, jsonb_build_object('version', 2, 'known_from', i.known_until, 'known_until', null, 'state', 'void', 'reason', 'Entered by mistake.'))).*
             from indication i where id = $1) as later`,
        [id],
      );
      const listener = await listen();
      await listener.until(lists(id), PATIENCE);
      const open = listener.events.length;
      await runner.commitTransaction();
      await listener.until((event) => event.event === 'clock' && !lists(id)(event), PATIENCE, open);
    } finally {
      await runner.release();
    }
  });

  /** All but those that the database makes itself. */
  async function columnsOf(table: string): Promise<string> {
    const rows: { name: string }[] = await api().owner.query("select column_name as name from information_schema.columns where table_name = $1 and is_generated = 'NEVER' order by ordinal_position", [table]);
    return rows.map(({ name }) => name).join(', ');
  }

  test('every table of versions with a string tells its news', async () => {
    const silent: { name: string }[] = await api().owner.query(
      `select table_name as name from information_schema.columns c join information_schema.columns k using (table_schema, table_name)
        where table_schema = 'public' and c.column_name = 'string_id' and k.column_name = 'known_until'
          and not exists (select 1 from pg_trigger where tgrelid = table_name::regclass and tgname = 'tell_string_news')`,
    );
    expect(silent).toEqual([]);
  });
});

test('all streams end when the program stops', async () => {
  const own = await startTestApi();
  const person = await own.signIn('materials-engineer');
  const url = await own.listen();
  const wellId = '0197a2c4-5b00-7d31-9c11-3a5d0e7f1c01';
  const id = '0197a2c4-5b00-7d31-9c11-3a5d0e7f1c02';
  await person.send('POST', '/api/wells', { body: { id: wellId, name: 'Lindmoor Geothermal 3', datum: 'Guide frame', observedAt: at('05:00:00') } });
  const string = { id, wellId, name: 'String', footageLimitMm: 4_000_000, outsideDiameterMm: '127.0', wallThicknessMm: '5.00', lengthRatio: '0.985', lengthRatioU: '0.004', observedAt: at('05:10:00') };
  expect(await person.send('POST', '/api/casing-strings', { body: string })).toMatchObject({ status: 201 });
  const listener = await EventListener.open(`${url}/api/casing-strings/${id}/hold-clock/live`, { authorization: `Bearer ${person.token}` });
  await listener.until(({ event }) => event === 'clock', PATIENCE);
  const watches = (): Promise<unknown[]> => own.owner.query('select 1 from string_watch');
  expect(await watches()).toHaveLength(1);
  const begun = performance.now();
  await own.app.close();
  expect(performance.now() - begun).toBeLessThan(3 * SECOND);
  await listener.ended(PATIENCE);
  expect([listener.last?.event, await watches()]).toEqual(['ended', []]);
  await own.close();
});
