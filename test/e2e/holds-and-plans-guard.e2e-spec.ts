import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { startTestApi, type TestApi } from '../setup/api.js';
import { asActor, DESCRIBED, firstVersion, idOf, insertRow, standRows, type Columns } from '../setup/record-rows.js';
import { amend, another, raced, saidToBoth, type Work } from '../setup/row-trials.js';

const CHECK = '23514';
const DUPLICATE = '23505';
const HELD = 'EM007';
const TAKEN = 'taken';

let api: TestApi;

const MATE = idOf('person', 2);

/** Rows of all kinds, and beside them channels, coils and splices that nothing names, and holds that nobody lifted. */
beforeAll(async () => {
  api = await startTestApi();
  await standRows(api.dataSource, DESCRIBED);
  await api.dataSource.transaction(async (manager) => {
    await asActor(manager);
    await insertRow(manager, 'person', firstVersion('person', { id: MATE, sign_in_name: 'mate' }));
    await another(manager, 'casing_string', 2, { name: 'Another string' });
    for (const nth of [2, 3]) await another(manager, 'channel', nth, { name: `ET-${nth}` });
    await another(manager, 'channel', 5, { name: 'ET-5', string_id: idOf('casing_string', 2) });
    for (const nth of [2, 3, 4]) await another(manager, 'coil', nth, { number: `LM-0${nth}` });
    for (const nth of [2, 3, 4]) await another(manager, 'splice', nth, { number: `S-9${nth}` });
    for (const nth of [2, 3, 4, 5, 6]) await another(manager, 'nonconformance', nth, { number: String(nth) });
    for (const nth of [2, 3, 4, 5, 6]) await another(manager, 'hold', nth, PIPE_ALONE);
    await another(manager, 'hold', 7, { ...PIPE_ALONE, string_id: idOf('casing_string', 2) });
    await another(manager, 'hold', 8, { ...PIPE_ALONE, state: 'void' });
  });
}, 60_000);
afterAll(() => api.close());

const PIPE_ALONE: Columns = { coil_ids: '{}', splice_ids: '{}' };

const said = (work: Work): Promise<string> => saidToBoth(api, work);
const refusals = async (work: (changes: Columns) => Work, all: readonly Columns[]): Promise<void> => {
  for (const changes of all) expect({ changes, said: await said(work(changes)) }).toEqual({ changes, said: CHECK });
};
const withdrawn = (table: string, nth: number, changes: Columns = {}): Work => (manager) => amend(manager, table, nth, { ...changes, state: 'void' });

describe('a control plan', () => {
  const naming = (...channels: number[]): string => JSON.stringify(channels.map((nth) => ({ channelId: nth === 0 ? null : idOf('channel', nth) })));
  const made = (changes: Columns): Work => (manager) => another(manager, 'control_plan', 9, { from_mm: '9', ...changes });

  test('says what a plan can, from a footage that no other is from', async () => {
    expect([await said(made({})), await said(made({ from_mm: '0' })), await said(made({ from_mm: '0', string_id: idOf('casing_string', 2), items: '[{}]' }))]).toEqual([TAKEN, DUPLICATE, TAKEN]);
    await refusals(made, [{ from_mm: '-1' }, { items: '[]' }, { items: '{}' }, { items: `[${Array(101).fill('{}').join()}]` }]);
  });

  test('names channels of its string that stand, and holds them', async () => {
    expect([await said(made({ items: naming(1, 2, 0) })), await said(made({ items: naming(0) }))]).toEqual([TAKEN, TAKEN]);
    expect([await said(made({ items: naming(1, 5) })), await said(made({ items: naming(9) }))]).toEqual([CHECK, CHECK]);
    const gone = (nth: number): Work => withdrawn('channel', nth, { name: `ET-${nth}` });
    expect(await said(gone(2))).toBe(TAKEN);
    expect(await raced(api, (manager) => another(manager, 'control_plan', 10, { from_mm: '10', items: naming(2) }), gone(2))).toBe(HELD);
    expect(await raced(api, gone(3), (manager) => another(manager, 'control_plan', 11, { from_mm: '11', items: naming(3) }))).toBe(CHECK);
  });
});

describe('what names an item of a plan', () => {
  const attended = (changes: Columns): Work => (manager) => another(manager, 'attendance', 9, changes);
  const waived = (changes: Columns): Work => (manager) => another(manager, 'evidence_waiver', 9, changes);
  const before: Columns = { basis: 'waiver', nonconformance_id: null };

  test('names one of a standing plan of its string, an attendance a point', async () => {
    expect([await said(attended({})), await said(waived(before)), await said(waived({ ...before, item_code: 'P-1' }))]).toEqual([TAKEN, TAKEN, TAKEN]);
    await refusals(attended, [{ item_code: 'N-1' }, { item_code: 'P-2' }, { string_id: idOf('casing_string', 2) }]);
    await refusals(waived, [{ ...before, item_code: 'P-2' }, { ...before, string_id: idOf('casing_string', 2) }]);
  });

  test('keeps it when the plan is withdrawn or says it no more, and takes no other then', async () => {
    const without = (plan: Columns, then: Work): Work => async (manager) => {
      await amend(manager, 'control_plan', 1, plan);
      await then(manager);
    };
    for (const plan of [{ state: 'void' }, { items: '[{"code": "P-9"}]' }]) {
      for (const table of ['attendance', 'evidence_waiver']) {
        expect(await said(without(plan, (manager) => amend(manager, table, 1, { observed_at: '2026-03-02T08:20:00Z' })))).toBe(TAKEN);
        expect(await said(without(plan, (manager) => another(manager, table, 9)))).toBe(CHECK);
        expect(await said(without(plan, (manager) => amend(manager, table, 1, { item_code: 'P-2' })))).toBe(CHECK);
      }
    }
  });

  test('says what such a record can', async () => {
    await refusals(attended, [{ outcome: 'fine' }, { outcome: 'not-accepted', note: null }, { attended_by: '[]' }, { attended_by: '{}' }, { attended_by: `[${Array(11).fill('{}').join()}]` }]);
    await refusals(waived, [{ basis: 'favour' }, { basis: 'waiver' }, { nonconformance_id: null }]);
    expect(await said(attended({ note: null }))).toBe(TAKEN);
  });
});

describe('a concession', () => {
  const of = (nth: number, as = 9): Work => (manager) => another(manager, 'evidence_waiver', as, { nonconformance_id: idOf('nonconformance', nth) });
  const decided = (nth: number, kind: string): Work => (manager) => amend(manager, 'nonconformance', nth, { number: String(nth), disposition: JSON.stringify({ kind }) });
  const gone = (nth: number): Work => withdrawn('nonconformance', nth, { number: String(nth) });

  test('rests on a nonconformance of its string that is used as it is, and keeps it so', async () => {
    expect(await said(of(2))).toBe(TAKEN);
    const unlike = (changes: Columns): Work => async (manager) => {
      await another(manager, 'nonconformance', 9, { number: '9', ...changes });
      await of(9)(manager);
    };
    await refusals(unlike, [{ disposition: '{"kind": "repair"}' }, { disposition: null }, { string_id: idOf('casing_string', 2) }, { state: 'void' }]);
    // A nonconformance of strip alone is of no string.
    expect(await said(unlike({ string_id: null, extent: '{}' }))).toBe(TAKEN);
    expect([await said(decided(1, 'repair')), await said(decided(1, 'use-as-is-under-concession')), await said(decided(2, 'repair'))]).toEqual([CHECK, TAKEN, TAKEN]);
  });

  test('at the same moment as another decision: whichever is second waits and is refused', async () => {
    expect(await raced(api, of(3, 13), decided(3, 'repair'))).toBe(CHECK);
    expect(await raced(api, decided(4, 'repair'), of(4, 14))).toBe(CHECK);
    expect(await raced(api, of(5, 15), gone(5))).toBe(HELD);
    expect(await raced(api, gone(6), of(6, 16))).toBe(CHECK);
  });
});

describe('a hold', () => {
  const made = (changes: Columns): Work => (manager) => another(manager, 'hold', 9, changes);

  test('is of something, and its footage is that of what was given', async () => {
    const nothing: Columns = { given: '[]', extent: '{}' };
    expect([await said(made({})), await said(made(nothing)), await said(made({ ...nothing, coil_ids: '{}' })), await said(made({ ...nothing, splice_ids: '{}' })), await said(made(PIPE_ALONE))]).toEqual(Array(5).fill(TAKEN));
    await refusals(made, [{ ...nothing, ...PIPE_ALONE }, { given: '[]' }, { extent: '{}' }]);
  });

  test('names coils that stand and splices of its string, and holds them', async () => {
    await refusals(made, [{ coil_ids: `{${idOf('coil', 9)}}` }, { splice_ids: `{${idOf('splice', 9)}}` }, { string_id: idOf('casing_string', 2) }]);
    const gone = { coil: (nth: number): Work => withdrawn('coil', nth, { number: `LM-0${nth}` }), splice: (nth: number): Work => withdrawn('splice', nth, { number: `S-9${nth}` }) };
    for (const table of ['coil', 'splice'] as const) {
      const holding = (nth: number, as: number): Work => (manager) => another(manager, 'hold', as, { ...PIPE_ALONE, [`${table}_ids`]: `{${idOf(table, nth)}}` });
      const as = table === 'coil' ? 20 : 30;
      expect(await said(gone[table](4))).toBe(TAKEN);
      expect(await raced(api, holding(2, as), gone[table](2))).toBe(HELD);
      expect(await raced(api, gone[table](3), holding(3, as + 1))).toBe(CHECK);
      // A hold that is withdrawn holds nothing.
      expect(await said(async (manager) => {
        await amend(manager, 'hold', as, { ...PIPE_ALONE, [`${table}_ids`]: `{${idOf(table, 2)}}`, state: 'void' });
        await gone[table](2)(manager);
      })).toBe(TAKEN);
    }
  });

  test('keeps the ground it stands on', async () => {
    const shortened = (limit: string): Work => (manager) => amend(manager, 'casing_string', 2, { name: 'Another string', footage_limit_mm: limit });
    expect([await said(shortened('212000')), await said(shortened('212001'))]).toEqual(['EM006', TAKEN]);
  });
});

describe('a lifting', () => {
  const lifted = (nth: number, changes: Columns = {}, as = 9): Work => (manager) => another(manager, 'hold_lifting', as, { hold_id: idOf('hold', nth), done_by: MATE, own_hold_because: null, ...changes });
  const changed = (nth: number, changes: Columns): Work => (manager) => amend(manager, 'hold', nth, { ...PIPE_ALONE, ...changes });

  test('is of a standing hold of its string, once, and by another person unless it says why not', async () => {
    expect([await said(lifted(2)), await said(lifted(1)), await said(lifted(7)), await said(lifted(8))]).toEqual([TAKEN, DUPLICATE, CHECK, CHECK]);
    const own: Columns = { done_by: idOf('person') };
    expect([await said(lifted(2, own)), await said(lifted(2, { ...own, own_hold_because: 'Alone' })), await said(lifted(2, { own_hold_because: 'Both' }))]).toEqual([CHECK, TAKEN, TAKEN]);
    const twice: Work = async (manager) => {
      await lifted(2)(manager);
      await lifted(2, {}, 10)(manager);
    };
    expect(await said(twice)).toBe(DUPLICATE);
    expect(await said(async (manager) => {
      await lifted(2, { state: 'void' })(manager);
      await lifted(2, {}, 10)(manager);
    })).toBe(TAKEN);
  });

  test('stays with its hold', async () => {
    const amended = (changes: Columns): Work => (manager) => amend(manager, 'hold_lifting', 1, changes);
    expect([await said(amended({ grounds: 'Measured again' })), await said(amended({ hold_id: idOf('hold', 2) })), await said(amended({ own_hold_because: null }))]).toEqual([TAKEN, CHECK, CHECK]);
  });

  test('keeps what the hold holds, but for footage that is derived again; a hold that stands may change', async () => {
    const after = (work: Work): Promise<string> => said(async (manager) => {
      await lifted(2)(manager);
      await work(manager);
    });
    const free: Columns[] = [{ cause: 'Thin band' }, { extent: '{[212005,212006)}', rests_on: '[{}]' }];
    for (const changes of free) expect([changes, await after(changed(2, changes))]).toEqual([changes, TAKEN]);
    const kept: Columns[] = [{ given: '[{}, {}]' }, { coil_ids: `{${idOf('coil')}}` }, { splice_ids: `{${idOf('splice')}}` }, { done_by: MATE }];
    for (const changes of kept) {
      expect([changes, await after(changed(2, changes)), await said(changed(2, changes))]).toEqual([changes, CHECK, TAKEN]);
    }
    expect([await after(changed(2, { state: 'void' })), await said(changed(2, { state: 'void' }))]).toEqual([HELD, TAKEN]);
  });

  test('at the same moment as the hold is changed or withdrawn: whichever is second waits and is refused', async () => {
    expect(await raced(api, lifted(3, {}, 13), changed(3, { state: 'void' }))).toBe(HELD);
    expect(await raced(api, changed(4, { state: 'void' }), lifted(4, {}, 14))).toBe(CHECK);
    expect(await raced(api, lifted(5, {}, 15), changed(5, { given: '[{}, {}]' }))).toBe(CHECK);
    expect(await raced(api, changed(6, { done_by: MATE }), lifted(6, {}, 16))).toBe(CHECK);
  });
});
