import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { startTestApi, type TestApi } from '../setup/api.js';
import { asActor, DESCRIBED, idOf, standRows, type Columns } from '../setup/record-rows.js';
import { amend, another, raced, saidToBoth, type Work } from '../setup/row-trials.js';

const CHECK = '23514';
const DUPLICATE = '23505';
const FROZEN = 'EM008';
const TAKEN = 'taken';

/** The rows stand at 08:15; these are before, at and after that. */
const EARLIER = '2026-03-02T08:14:59.999999Z';
const SAME = '2026-03-02T08:15:00Z';
const LATER = '2026-03-02T08:15:00.000001Z';

let api: TestApi;

/** Rows of all kinds, and beside them samples without a test, and plans that no string was assigned. */
beforeAll(async () => {
  api = await startTestApi();
  await standRows(api.dataSource, DESCRIBED);
  await api.dataSource.transaction(async (manager) => {
    await asActor(manager);
    for (const nth of [2, 3, 4]) await another(manager, 'test_sample', nth, { number: `TS-${nth}` });
    for (const nth of [2, 3, 4]) await another(manager, 'sampling_plan', nth, { revision: String(nth) });
  });
}, 60_000);
afterAll(() => api.close());

const said = (work: Work): Promise<string> => saidToBoth(api, work);

describe('a test and its sample', () => {
  const tested = (sample: number, nth: number, changes: Columns = {}): Work => (manager) =>
    another(manager, 'destructive_test', nth, { test_sample_id: idOf('test_sample', sample), ...changes });
  const moved = (sample: number, changes: Columns): Work => (manager) => amend(manager, 'test_sample', sample, { number: `TS-${sample}`, ...changes });

  test('are in this order: no test before its sample, no sample moved to after a test', async () => {
    const at = (observed_at: string): Promise<string> => said(tested(2, 9, { observed_at }));
    expect([await at(EARLIER), await at(SAME), await at(LATER)]).toEqual([CHECK, TAKEN, TAKEN]);
    const amendedTest = (observed_at: string): Promise<string> => said((manager) => amend(manager, 'destructive_test', 1, { observed_at }));
    expect([await amendedTest(EARLIER), await amendedTest(SAME), await amendedTest(LATER)]).toEqual([CHECK, TAKEN, TAKEN]);
    const amendedSample = (sample: number, observed_at: string): Promise<string> => said(moved(sample, { observed_at }));
    expect([await amendedSample(1, EARLIER), await amendedSample(1, SAME), await amendedSample(1, LATER)]).toEqual([TAKEN, TAKEN, CHECK]);
    // No test is made of this one.
    expect(await amendedSample(2, LATER)).toBe(TAKEN);
  });

  test('that are withdrawn hold nothing, and are held by nothing', async () => {
    const withdrawn = async (then: Work): Promise<string> => said(async (manager) => {
      await amend(manager, 'destructive_test', 1, { state: 'void' });
      await then(manager);
    });
    expect(await withdrawn(moved(1, { observed_at: LATER }))).toBe(TAKEN);
    expect(await said(tested(2, 9, { observed_at: EARLIER, state: 'void' }))).toBe(TAKEN);
  });

  test('at the same moment: whichever is second waits and is refused', async () => {
    const late = '2026-03-02T10:00:00Z';
    expect(await raced(api, tested(3, 8), moved(3, { observed_at: late }))).toBe(CHECK);
    expect(await raced(api, moved(4, { observed_at: late }), tested(4, 9))).toBe(CHECK);
  });

  test('a test says of how it was made only what its kind can', async () => {
    const of = (kind: string, changes: Columns): Promise<string> => said((manager) => another(manager, 'destructive_test', 9, { kind, flattening: null, ...changes }));
    const content = (column: string): Columns => ({ [column]: '{}' });
    expect([await of('flattening', content('flattening')), await of('hardness', content('flattening'))]).toEqual([TAKEN, CHECK]);
    expect([await of('flaring', content('flaring')), await of('flattening', content('flaring'))]).toEqual([TAKEN, CHECK]);
    expect([await of('reverse-bend', content('reverse_bend')), await of('flaring', content('reverse_bend'))]).toEqual([TAKEN, CHECK]);
    const opened = content('reverse_flattening');
    expect([await of('reverse-bend', opened), await of('flattening', opened), await of('macro', opened)]).toEqual([TAKEN, TAKEN, CHECK]);
    expect(await of('flattening', { ...opened, flattening: '{}' })).toBe(CHECK);
  });
});

describe('a test and what it follows', () => {
  const at = (minute: number): string => `2026-03-02T08:${minute}:00Z`;
  /** The ninth follows the first, which stands at 08:15. */
  const following = (changes: Columns = {}): Work => (manager) =>
    another(manager, 'destructive_test', 9, { follows_test_id: idOf('destructive_test', 1), observed_at: at(30), ...changes });
  const followedThen = (changes: Columns, follower: Columns = {}): Promise<string> => said(async (manager) => {
    await following(follower)(manager);
    await amend(manager, 'destructive_test', 1, changes);
  });

  test('are of one string and kind, the one later than the other, whichever is written last', async () => {
    expect([await said(following({ observed_at: SAME })), await said(following({ observed_at: LATER }))]).toEqual([CHECK, TAKEN]);
    expect(await said(following({ kind: 'hardness', flattening: null }))).toBe(CHECK);
    expect(await said(following({ string_id: idOf('casing_string', 2) }))).toBe(CHECK);
    expect([await followedThen({ observed_at: at(29) }), await followedThen({ observed_at: at(30) }), await followedThen({ observed_at: at(31) })]).toEqual([TAKEN, CHECK, CHECK]);
    expect(await followedThen({ kind: 'hardness', flattening: null })).toBe(CHECK);
  });

  test('never go round in a circle', async () => {
    for (const minute of [29, 31]) expect(await followedThen({ follows_test_id: idOf('destructive_test', 9), observed_at: at(minute) })).toBe(CHECK);
  });

  test('that are withdrawn hold nothing', async () => {
    expect(await said(following({ observed_at: SAME, state: 'void' }))).toBe(TAKEN);
    expect(await followedThen({ observed_at: at(31) }, { state: 'void' })).toBe(TAKEN);
  });

  test('at the same moment: whichever is second waits and is refused', async () => {
    const [first, second] = [idOf('destructive_test', 20), idOf('destructive_test', 22)];
    await api.dataSource.transaction(async (manager) => {
      await asActor(manager);
      for (const nth of [20, 22]) await another(manager, 'destructive_test', nth, { observed_at: at(20) });
    });
    const moved = (nth: number): Work => (manager) => amend(manager, 'destructive_test', nth, { observed_at: at(40) });
    const follower = (nth: number, follows: string): Work => (manager) => another(manager, 'destructive_test', nth, { follows_test_id: follows, observed_at: at(30) });
    expect(await raced(api, follower(21, first), moved(20))).toBe(CHECK);
    expect(await raced(api, moved(22), follower(23, second))).toBe(CHECK);
  });
});

describe('a sampling plan', () => {
  const assigned = (plan: number, nth: number, changes: Columns = {}): Work => (manager) =>
    another(manager, 'sampling_plan_assignment', nth, { sampling_plan_id: idOf('sampling_plan', plan), from_day: '2026-04-01', ...changes });
  const changed = (plan: number, changes: Columns): Work => (manager) => amend(manager, 'sampling_plan', plan, { revision: String(plan), ...changes });

  test('is changed while no string was assigned it, and never afterwards, though the assignment was withdrawn', async () => {
    expect(await said(changed(2, { title: 'Other tests' }))).toBe(TAKEN);
    expect(await said(changed(1, { title: 'Other tests' }))).toBe(FROZEN);
    expect(await said(async (manager) => {
      await assigned(2, 9, { state: 'void' })(manager);
      await changed(2, { title: 'Other tests' })(manager);
    })).toBe(FROZEN);
  });

  test('is assigned from no day before it is effective, and one plan from a day', async () => {
    expect(await said(assigned(2, 9, { from_day: '2025-05-31' }))).toBe(CHECK);
    expect(await said(assigned(2, 9, { from_day: '2025-06-01' }))).toBe(TAKEN);
    expect(await said(assigned(2, 9, { from_day: '2026-03-01' }))).toBe(DUPLICATE);
  });

  test('says something of a test, and has each revision once', async () => {
    const made = (changes: Columns): Promise<string> => said((manager) => another(manager, 'sampling_plan', 9, { revision: '9', ...changes }));
    expect([await made({ tests: '[]' }), await made({ tests: '{}' }), await made({ revision: '0' })]).toEqual([CHECK, CHECK, CHECK]);
    expect([await made({ number: 'sp-1', revision: '2' }), await made({})]).toEqual([DUPLICATE, TAKEN]);
  });

  test('changed and assigned at the same moment: whichever is second waits and is refused', async () => {
    expect(await raced(api, assigned(3, 7), changed(3, { effective_from: '2026-05-01' }))).toBe(FROZEN);
    expect(await raced(api, changed(4, { effective_from: '2026-05-01' }), assigned(4, 8, { from_day: '2026-04-02' }))).toBe(CHECK);
  });
});
