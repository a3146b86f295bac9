import { beforeAll, describe, expect, test } from '@jest/globals';
import { v7 as uuidv7 } from 'uuid';
import { databaseState } from '../setup/database-state.js';
import { entered } from '../setup/string-builder.js';
import { at, fieldsRefused, lineFactory, type Fields } from './line.factory.js';

const { api, engineer, stringId, post, made, amend, withdraw, get, setup, period, reading, cutOut } = lineFactory();
let procedureId: string;

beforeAll(async () => {
  procedureId = await made('weld-procedures', procedure());
});

const procedure = (changes: Fields = {}): Fields => ({
  observedAt: at('05:00'), number: 'WP-20', revision: 1, title: 'Seam of 5 mm strip', purpose: 'seam', process: 'HFW', effectiveFrom: '2025-06-01',
  ranges: [{ variable: 'power', min: '160', max: '200', unit: 'kW' }, { variable: 'line-speed', min: '8', max: '14', unit: 'm/min' }], lists: [], ...changes,
});

const inWindow = [{ variable: 'power', printed: '182', unit: 'kW' }, { variable: 'line-speed', printed: '12.0', unit: 'm/min' }];

const event = (kind: string, clock: string, from: Fields, changes: Fields = {}): Fields => ({
  stringId: stringId(), observedAt: at(clock), event: kind, from, weldProcedureId: procedureId, readings: inWindow, ...changes,
});

const stop = (clock: string, from: Fields, changes: Fields = {}): Fields => event('stop', clock, from, { cause: 'Strip caught at the entry guide', readings: [], ...changes });

const marksOf = ({ body }: { body: Fields }): unknown[] => (body['marks'] as Fields[]).map(({ kind, field }) => [kind, field]);

async function stops(query = ''): Promise<Fields & { stops: Fields[] }> {
  const answer = await engineer().send<Fields & { stops: Fields[] }>('GET', `/api/casing-strings/${stringId()}/seam-stops${query}`);
  expect(answer.status).toBe(200);
  return answer.body;
}

const stationsOf = ({ stations }: Fields): Record<string, Fields> =>
  Object.fromEntries((stations as { name: string; affected: Fields }[]).map(({ name, affected }) => [name, affected]));

describe('a seam event', () => {
  test('in the window of its procedure is taken without a mark; outside it, or not reported, with one', async () => {
    const taken = await post('seam-events', event('start', '06:10', { footageMm: 100 }));
    expect(taken).toMatchObject({ status: 201, body: { marks: [], footageFromMm: 100, footageToMm: 101, to: null, cause: null, doneBy: engineer().personId } });
    const hot = await post('seam-events', event('set-up-change', '07:00', { footageMm: 5_000 }, { readings: [{ variable: 'power', printed: '215', unit: 'kW' }] }));
    expect(hot.status).toBe(201);
    expect(marksOf(hot)).toEqual([['out-of-specification', 'readings[0].printed'], ['noted', 'line-speed']]);
    // Nothing is welded at a stop, and its readings are not asked for; what was read is held against the window.
    expect(await post('seam-events', stop('07:10', { footageMm: 6_000 }))).toMatchObject({ status: 201, body: { marks: [] } });
    expect(marksOf(await post('seam-events', stop('07:20', { footageMm: 6_000 }, { readings: [{ variable: 'line-speed', printed: '0', unit: 'm/min' }] })))).toEqual([
      ['out-of-specification', 'readings[0].printed'],
    ]);
    const splicing = await made('weld-procedures', procedure({ number: `WP-${stringId().slice(-6)}`, purpose: 'splice' }));
    expect(marksOf(await post('seam-events', event('restart', '07:30', { footageMm: 6_000 }, { weldProcedureId: splicing })))).toEqual([['noted', 'weldProcedureId']]);
  });

  test('moves with the counter it was given by, and freezes its procedure and the ground it stands on', async () => {
    const periodId = await made('counter-periods', period());
    const id = await made('seam-events', stop('09:00', { counterReading: '30000' }));
    expect(await get('seam-events', id)).toMatchObject({ footageFromMm: 30_000, restsOn: [{ kind: 'counter-period', id: periodId }] });
    await amend('counter-periods', periodId, 1, { scaleMmPerCount: '1.0100' });
    expect(await get('seam-events', id)).toMatchObject({ version: 2, footageFromMm: 30_300, from: { counterReading: '30000' } });
    expect(await amend('weld-procedures', procedureId, 1, { title: 'Other' })).toMatchObject({
      status: 409, body: { detail: expect.stringContaining('revision 1 of procedure WP-20 is in use') },
    });
    expect(await amend('casing-strings', stringId(), 1, { footageLimitMm: 30_300 })).toMatchObject({ status: 422, body: { type: 'urn:everymetre:problem:outside-string' } });
    expect(await amend('casing-strings', stringId(), 1, { footageLimitMm: 30_301 })).toMatchObject({ status: 200 });
  });

  test('that cannot be, or does not go together, is refused field by field, and nothing is written', async () => {
    const here = { footageMm: 1_000 };
    const refused: readonly [number, string[], Fields][] = [
      [422, ['cause'], stop('08:00', here, { cause: null })],
      [422, ['from.station'], event('start', '08:00', { counterReading: '10', station: 'wall gauge' })],
      [422, ['cause', 'from.station'], stop('08:00', { footageMm: 1_000, station: 'wall gauge' }, { cause: null })],
      [400, ['cause'], stop('08:00', here, { cause: ' ' })],
      [400, ['event'], event('pause', '08:00', here)],
      [400, ['to'], event('start', '08:00', here, { to: { footageMm: 2_000 } })],
      [400, ['weldProcedureId'], event('start', '08:00', here, { weldProcedureId: null })],
      [422, ['weldProcedureId'], event('start', '08:00', here, { weldProcedureId: uuidv7() })],
      [400, ['readings'], event('start', '08:00', here, { readings: null })],
      [400, ['readings[0].variable'], event('start', '08:00', here, { readings: [{ variable: 'colour', printed: '1', unit: 'A' }] })],
      [400, ['readings[0].unit'], event('start', '08:00', here, { readings: [{ variable: 'power', printed: '182', unit: 'V' }] })],
      [400, ['readings[0].printed', 'readings[1].printed'], event('start', '08:00', here, {
        readings: [{ variable: 'power', printed: '1,8', unit: 'kW' }, { variable: 'line-speed', printed: '900', unit: 'm/min' }],
      })],
      [422, ['readings[0].instrumentId'], event('start', '08:00', here, { readings: [{ ...inWindow[0], instrumentId: uuidv7() }] })],
      [422, ['from'], event('start', '08:00', {})],
      [422, ['from.counterReading'], event('start', '08:00', { counterReading: '10' })],
      [422, ['from.counterReading'], event('start', '08:00', { footageMm: 10, counterReading: '10' })],
      [422, ['stringId'], event('start', '08:00', here, { stringId: uuidv7() })],
      [400, ['observedAt'], event('start', '08:00', here, { observedAt: '08:00' })],
    ];
    const state = await databaseState(api().owner);
    for (const [status, fields, body] of refused) {
      const answer = await post('seam-events', body);
      expect([answer.status, fieldsRefused(answer)]).toEqual([status, fields]);
    }
    expect(await databaseState(api().owner)).toEqual(state);
  });
});

describe('what a stop affected', () => {
  test('at each station is what stood there, and how long it lasted', async () => {
    const setupId = await made('line-setups', setup());
    await made('counter-periods', period());
    await made('counter-readings', reading('09:00', '30000'));
    await made('seam-events', event('start', '06:10', { counterReading: '0' }));
    const stopId = await made('seam-events', stop('09:00', { footageMm: 30_000 }));
    const restartId = await made('seam-events', event('restart', '09:25', { footageMm: 30_000 }));
    await made('counter-readings', reading('11:00', '60000'));
    await made('seam-events', stop('11:00', { footageMm: 60_000 }));

    const found = await stops('?influenceMm=100');
    expect(found).toMatchObject({ asked: { influenceMm: 100, asKnownAt: null }, stops: [{ at: '2026-03-02T09:00:00.000000Z' }, { at: '2026-03-02T11:00:00.000000Z' }] });
    const [first = {}, second = {}] = found.stops;
    expect(first).toMatchObject({
      event: { id: stopId, label: 'stop at 30000 mm' }, cause: 'Strip caught at the entry guide', lineSetup: { id: setupId }, remarks: [],
      lasted: { until: '2026-03-02T09:25:00.000000Z', seconds: 1_500, isOpen: false, endedBy: { id: restartId } },
      footage: { byRecord: { footageMm: 30_000, basis: 'footage' }, byCounter: { footageMm: 30_000, basis: 'at a reading' }, differenceMm: 0, agrees: true },
      atWeldPoint: { certain: { fromMm: 29_900, toMm: 30_101 }, possible: { fromMm: 29_900, toMm: 30_101 } },
    });
    expect(second).toMatchObject({ lasted: { until: null, endedBy: null, seconds: null, isOpen: true } });
    const stations = stationsOf(first);
    expect(Object.keys(stations)).toEqual(['strip splice', 'wall gauge', 'hang-off']);
    expect(stations['strip splice']).toMatchObject({ certain: null, possible: null, because: expect.stringContaining('what stood here was strip') });
    // ± 2 √(3² + (0.0005 · 6200)²) = 8.63 mm and ± 2 √(10² + (0.0005 · 18000)²) = 26.91 mm.
    expect(stations['wall gauge']).toMatchObject({ certain: { fromMm: 23_709, toMm: 23_892 }, possible: { fromMm: 23_691, toMm: 23_910 }, because: null });
    expect(stations['hang-off']).toMatchObject({ certain: { fromMm: 11_927, toMm: 12_074 }, possible: { fromMm: 11_873, toMm: 12_128 } });

    const narrow = await stops();
    expect(stationsOf(narrow.stops[0] ?? {})['wall gauge']).toMatchObject({ certain: null, possible: { fromMm: 23_791, toMm: 23_810 } });
    expect(narrow['cautions']).toContainEqual(expect.stringContaining('influenceMm was not given and is taken as 0'));
  });

  test('says which part of it was cut out since, and not what was cut before or elsewhere', async () => {
    await made('line-setups', setup());
    await made('counter-periods', period());
    await made('counter-readings', reading('09:00', '30000'));
    await entered(engineer(), 'cut-outs', cutOut('08:59', { footageMm: 29_000 }, { footageMm: 29_920 }));
    await made('seam-events', stop('09:00', { footageMm: 30_000 }));
    const gone = async (): Promise<unknown> => ((await stops('?influenceMm=100')).stops[0]?.['atWeldPoint'] as Fields)['cutOutSince'];
    expect(await gone()).toEqual([]);
    await made('counter-readings', reading('10:00', '60000'));
    await entered(engineer(), 'cut-outs', cutOut('10:00', { footageMm: 30_050 }, { footageMm: 30_900 }));
    expect(await gone()).toEqual([{ fromMm: 30_050, toMm: 30_101 }]);
    expect(stationsOf((await stops('?influenceMm=100')).stops[0] ?? {})['wall gauge']).toMatchObject({ cutOutSince: [] });
  });

  test('ends with the restart of the same minute, though that was keyed first', async () => {
    await made('seam-events', event('start', '08:00', { footageMm: 100 }));
    const restartId = await made('seam-events', event('restart', '09:00', { footageMm: 30_000 }));
    await made('seam-events', stop('09:00', { footageMm: 30_000 }));
    expect((await stops()).stops).toMatchObject([{ lasted: { isOpen: false, seconds: 0, endedBy: { id: restartId } } }]);
    expect((await get('casing-strings', `${stringId()}/open-items`))['items']).toEqual([]);
  });

  test('moves with a corrected counter; as known before the correction it is what it was', async () => {
    await made('line-setups', setup());
    const periodId = await made('counter-periods', period());
    await made('counter-readings', reading('09:00', '30000'));
    await made('seam-events', stop('09:00', { footageMm: 30_000 }));
    const { recordedAt } = (await post('seam-events', stop('09:00', { counterReading: '30000' }))).body;
    const before = await stops('?influenceMm=100');

    await amend('counter-periods', periodId, 1, { scaleMmPerCount: '1.0100' });
    const [stated = {}, counted = {}] = (await stops('?influenceMm=100')).stops;
    // The footage that was written down stays; the counter says otherwise now, and nobody chooses between them.
    expect(stated['footage']).toMatchObject({
      byRecord: { footageMm: 30_000 }, byCounter: { footageMm: 30_300 }, differenceMm: 300, agrees: false, words: expect.stringContaining('the counter says 300 mm more'),
    });
    expect(stationsOf(stated)['wall gauge']).toMatchObject({
      certain: null, possible: { fromMm: 23_691, toMm: 24_210 },
      byRecord: { nearestMm: 23_800, possible: { fromMm: 23_691, toMm: 23_910 } }, byCounter: { nearestMm: 24_100, possible: { fromMm: 23_991, toMm: 24_210 } },
    });
    // The one given by the counter moves with it.
    expect(counted['footage']).toMatchObject({ byRecord: { footageMm: 30_300, basis: 'counter reading' }, differenceMm: 0, agrees: true });
    expect(stationsOf(counted)['wall gauge']).toMatchObject({ certain: { fromMm: 24_009, toMm: 24_192 }, possible: { fromMm: 23_991, toMm: 24_210 } });
    expect(counted['event']).toMatchObject({ version: 2 });

    const then = await stops(`?influenceMm=100&asKnownAt=${encodeURIComponent(String(recordedAt))}`);
    expect(then.stops).toEqual(before.stops);
    expect(stationsOf(then.stops[0] ?? {})['wall gauge']).toMatchObject({ certain: { fromMm: 23_709, toMm: 23_892 } });
  });

  test('without readings, without a set-up, repeated or withdrawn says so', async () => {
    const id = await made('seam-events', stop('09:00', { footageMm: 30_000 }));
    await made('seam-events', stop('09:30', { footageMm: 30_000 }));
    const [first = {}] = (await stops()).stops;
    expect(first).toMatchObject({
      lineSetup: null, stations: [], footage: { byCounter: null, differenceMm: null, agrees: null, words: expect.stringContaining('has no reading') },
      remarks: [expect.stringContaining('No line set-up'), expect.stringContaining('Another stop')], atWeldPoint: { possible: { fromMm: 30_000, toMm: 30_001 } },
    });
    expect(await withdraw('seam-events', id, 1)).toMatchObject({ status: 200 });
    expect((await stops()).stops).toHaveLength(1);
  });

  test('after the last reading, the counter is shown and not held against the record', async () => {
    await made('counter-periods', period());
    await made('counter-readings', reading('08:00', '20000'));
    await made('seam-events', stop('09:00', { footageMm: 30_000 }));
    const [only = {}] = (await stops()).stops;
    expect(only).toMatchObject({
      footage: { byCounter: { footageMm: 20_000, basis: 'after the last reading' }, differenceMm: -10_000, words: expect.stringContaining('rest on the record alone') },
      atWeldPoint: { possible: { fromMm: 30_000, toMm: 30_001 }, byCounter: { possible: { fromMm: 20_000, toMm: 20_001 } } },
    });
  });

  test('is asked in whole millimetres of an influence that can be, about a string that is', async () => {
    const ask = (path: string) => engineer().send('GET', `/api/casing-strings/${path}`);
    for (const wrong of ['-1', '1.5', '100001', '']) {
      const answer = await ask(`${stringId()}/seam-stops?influenceMm=${wrong}`);
      expect([answer.status, fieldsRefused(answer)]).toEqual([400, ['influenceMm']]);
    }
    const several = await ask(`${stringId()}/seam-stops?influenceMm=x&asKnownAt=x&station=x`);
    expect([several.status, fieldsRefused(several)]).toEqual([400, ['station', 'influenceMm', 'asKnownAt']]);
    expect(await ask(`${uuidv7()}/seam-stops`)).toMatchObject({ status: 404 });
    expect(await ask('x/seam-stops')).toMatchObject({ status: 400 });
  });
});
