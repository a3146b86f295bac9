import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { startTestApi, type TestApi } from '../setup/api.js';
import { asActor, DESCRIBED, firstVersion, idOf, insertRow, standRows, type Columns } from '../setup/record-rows.js';
import { amend, another, raced, saidToBoth, type Work } from '../setup/row-trials.js';

const CHECK = '23514';
const DUPLICATE = '23505';
const HELD = 'EM007';
const TAKEN = 'taken';

const channels = (...nths: number[]): string => `{${nths.map((nth) => idOf('channel', nth)).join(',')}}`;
const resultsOf = (...nths: number[]): string => JSON.stringify(nths.map((nth) => ({ channelId: idOf('channel', nth) })));

let api: TestApi;

/** Rows of all kinds, and beside them channels of no run, one of another string, and runs that nothing names. */
beforeAll(async () => {
  api = await startTestApi();
  await standRows(api.dataSource, DESCRIBED);
  await api.dataSource.transaction(async (manager) => {
    await asActor(manager);
    await insertRow(manager, 'casing_string', firstVersion('casing_string', { id: idOf('casing_string', 2), name: 'Another string' }));
    for (const nth of [2, 3, 4, 5]) await another(manager, 'channel', nth, { name: `ET-${nth}` });
    await another(manager, 'channel', 6, { name: 'ET-6', string_id: idOf('casing_string', 2) });
    for (const nth of [2, 3, 4]) await another(manager, 'inspection_run', nth, { channel_ids: channels(1, 2) });
  });
}, 60_000);
afterAll(() => api.close());

const said = (work: Work): Promise<string> => saidToBoth(api, work);
const run = (changes: Columns): Work => (manager) => another(manager, 'inspection_run', 9, changes);
const mark = (changes: Columns): Work => (manager) => another(manager, 'signal_mark', 9, changes);
const check = (changes: Columns): Work => (manager) => another(manager, 'reference_check', 9, changes);
const withdrawn = (nth: number): Work => (manager) => amend(manager, 'channel', nth, { name: `ET-${nth}`, state: 'void' });

describe('a channel', () => {
  const channel = (changes: Columns): Promise<string> => said((manager) => another(manager, 'channel', 9, { name: 'ET-9', ...changes }));

  test('has a name of its own on its string, whatever its capitals', async () => {
    expect([await channel({}), await channel({ name: 'et-seam-1' }), await channel({ name: 'ET seam' })]).toEqual([TAKEN, DUPLICATE, CHECK]);
    expect(await channel({ name: 'ET-SEAM-1', string_id: idOf('casing_string', 2) })).toBe(TAKEN);
  });

  test('says what it is sampled by, by what method it examines, and nothing that cannot be', async () => {
    const right: Columns[] = [
      { sampling: '{"per": "time", "everyMs": "20"}' }, { measures: 'speed', method: null }, { measures: 'wall-thickness', method: null }, { measures: 'wall-thickness', method: 'UT' },
      { clock_from_deg: null, clock_to_deg: null }, { stuck_after: null }, { noise_floor_least: '0' }, { check_grace_minutes: '0' },
    ];
    for (const changes of right) expect({ changes, said: await channel(changes) }).toEqual({ changes, said: TAKEN });
    const wrong: Columns[] = [
      { sampling: '{"per": "time", "everyMm": "1"}' }, { sampling: '{"per": "length"}' }, { sampling: '{}' }, { method: null }, { measures: 'speed' }, { method: 'XX' }, { measures: 'noise' },
      { zone: 'end' }, { clock_from_deg: null }, { clock_to_deg: '361' }, { stuck_after: '1' }, { splice_margin_mm: '-1' }, { noise_floor_least: '-1' }, { repeats: 'first' },
      { check_every_minutes: '0' }, { check_grace_minutes: '-1' },
    ];
    for (const changes of wrong) expect({ changes, said: await channel(changes) }).toEqual({ changes, said: CHECK });
  });

  test('is not withdrawn while a run has it', async () => {
    expect([await said(withdrawn(1)), await said(withdrawn(2)), await said(withdrawn(5))]).toEqual([HELD, HELD, TAKEN]);
    expect(await said(async (manager) => {
      for (const nth of [2, 3, 4]) await amend(manager, 'inspection_run', nth, { channel_ids: channels(1, 2), state: 'void' });
      await withdrawn(2)(manager);
    })).toBe(TAKEN);
  });
});

describe('a run', () => {
  test('ends after it started, and says why it ended only then', async () => {
    const at = (observed_at: string, changes: Columns = {}): Promise<string> => said(run({ observed_at, ended_at: '2026-03-02T14:00:00Z', ...changes }));
    expect([await at('2026-03-02T13:59:59.999999Z'), await at('2026-03-02T14:00:00Z'), await at('2026-03-02T15:00:00Z')]).toEqual([TAKEN, CHECK, CHECK]);
    expect([await said(run({ ended_at: null })), await said(run({ ended_at: null, end_reason: null }))]).toEqual([CHECK, TAKEN]);
  });

  test('has channels, all of its string and none withdrawn', async () => {
    expect([await said(run({ channel_ids: channels(1, 2) })), await said(run({ channel_ids: '{}' })), await said(run({ channel_ids: channels(1, 6) }))]).toEqual([TAKEN, CHECK, CHECK]);
    expect([await said(run({ channel_ids: channels(9) })), await said(run({ channel_ids: channels(9), state: 'void' }))]).toEqual([CHECK, TAKEN]);
    expect(await said(async (manager) => {
      await withdrawn(5)(manager);
      await run({ channel_ids: channels(5) })(manager);
    })).toBe(CHECK);
  });

  test('and a channel withdrawn at the same moment: whichever is second waits and is refused', async () => {
    expect(await raced(api, (manager) => another(manager, 'inspection_run', 7, { channel_ids: channels(3) }), withdrawn(3))).toBe(HELD);
    expect(await raced(api, withdrawn(4), (manager) => another(manager, 'inspection_run', 8, { channel_ids: channels(4) }))).toBe(CHECK);
  });

  test('keeps the channels that its marks and checks name, and only those', async () => {
    const keeps = (named: Work, nths: number[]): Promise<string> => said(async (manager) => {
      await named(manager);
      await amend(manager, 'inspection_run', 2, { channel_ids: channels(...nths) });
    });
    const of = { run_id: idOf('inspection_run', 2) };
    for (const named of [mark({ ...of, channel_ids: channels(1) }), check({ ...of, results: resultsOf(1, 1) })]) {
      expect([await keeps(named, [2]), await keeps(named, [1])]).toEqual([CHECK, TAKEN]);
    }
    expect(await keeps(mark({ ...of, channel_ids: channels(1), state: 'void' }), [2])).toBe(TAKEN);
    const withoutFirst: Work = (manager) => amend(manager, 'inspection_run', 3, { channel_ids: channels(2) });
    expect(await raced(api, (manager) => another(manager, 'signal_mark', 7, { run_id: idOf('inspection_run', 3), channel_ids: channels(1) }), withoutFirst)).toBe(CHECK);
    const lost: Work = (manager) => amend(manager, 'inspection_run', 4, { channel_ids: channels(2) });
    expect(await raced(api, lost, (manager) => another(manager, 'reference_check', 7, { run_id: idOf('inspection_run', 4), results: resultsOf(1) }))).toBe(CHECK);
  });
});

describe('marks and reference checks', () => {
  test('are of a run of their string, and of its channels', async () => {
    for (const entered of [mark, check]) {
      expect([await said(entered({})), await said(entered({ string_id: idOf('casing_string', 2) }))]).toEqual([TAKEN, CHECK]);
    }
    expect([await said(mark({ channel_ids: channels(1, 2) })), await said(mark({ run_id: idOf('inspection_run', 2), channel_ids: channels(1, 2) }))]).toEqual([CHECK, TAKEN]);
    expect([await said(check({ results: resultsOf(1, 2) })), await said(check({ run_id: idOf('inspection_run', 2), results: resultsOf(1, 2) }))]).toEqual([CHECK, TAKEN]);
  });

  test('say what they can', async () => {
    const wrongMarks: Columns[] = [{ effect: 'ignored' }, { cause: 'rain' }, { channel_ids: '{}' }];
    for (const changes of wrongMarks) expect({ changes, said: await said(mark(changes)) }).toEqual({ changes, said: CHECK });
    const wrongChecks: Columns[] = [{ mode: 'quick' }, { occasion: 'lunch' }, { results: '[]', void_reason: null }];
    for (const changes of wrongChecks) expect({ changes, said: await said(check(changes)) }).toEqual({ changes, said: CHECK });
    expect([await said(check({ results: '[]' })), await said(check({ void_reason: null }))]).toEqual([TAKEN, TAKEN]);
  });

  test('keep the ground that they stand on', async () => {
    const shortened = (entered: Work): Promise<string> => said(async (manager) => {
      await entered(manager);
      await amend(manager, 'casing_string', 1, { footage_limit_mm: '400000' });
    });
    for (const entered of [mark, check]) {
      expect([await shortened(entered({ span: '[399999,400000)' })), await shortened(entered({ span: '[399999,400001)' }))]).toEqual([TAKEN, 'EM006']);
    }
  });
});
