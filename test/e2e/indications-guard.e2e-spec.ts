import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { startTestApi, type TestApi } from '../setup/api.js';
import { asActor, DESCRIBED, idOf, standRows, type Columns } from '../setup/record-rows.js';
import { amend, another, raced, saidToBoth, type Work } from '../setup/row-trials.js';

const CHECK = '23514';
const DUPLICATE = '23505';
const HELD = 'EM007';
const FROZEN = 'EM008';
const TAKEN = 'taken';

let api: TestApi;

/** Rows of all kinds, and beside them channels that nothing names and rules that no detection used. */
beforeAll(async () => {
  api = await startTestApi();
  await standRows(api.dataSource, DESCRIBED);
  await api.dataSource.transaction(async (manager) => {
    await asActor(manager);
    await another(manager, 'casing_string', 2, { name: 'Another string' });
    for (const nth of [2, 3, 4]) await another(manager, 'channel', nth, { name: `ET-${nth}` });
    await another(manager, 'channel', 5, { name: 'ET-5', string_id: idOf('casing_string', 2) });
    for (const nth of [2, 3, 4]) await another(manager, 'indication_rule', nth, { revision: String(nth) });
  });
}, 60_000);
afterAll(() => api.close());

const said = (work: Work): Promise<string> => saidToBoth(api, work);
const naming = (...channels: number[]): string => JSON.stringify(channels.map((nth) => ({ channelId: idOf('channel', nth) })));
const refusals = async (work: (changes: Columns) => Work, all: readonly Columns[]): Promise<void> => {
  for (const changes of all) expect({ changes, said: await said(work(changes)) }).toEqual({ changes, said: CHECK });
};

describe('a rule', () => {
  const amended = (nth: number, changes: Columns = {}): Work => (manager) => amend(manager, 'indication_rule', nth, { revision: String(nth), ...changes });
  const made = (changes: Columns): Work => (manager) => another(manager, 'indication_rule', 9, { revision: '9', ...changes });
  const used = (nth: number): Work => (manager) => another(manager, 'detection', 10 + nth, { rule_id: idOf('indication_rule', nth) });

  test('is frozen from its first detection on, and free until then', async () => {
    expect([await said(amended(1)), await said(amended(2))]).toEqual([FROZEN, TAKEN]);
    expect(await said(made({ name: 'SEAM', revision: '1' }))).toBe(DUPLICATE);
  });

  test('at the same moment as a detection: whichever is second waits; the rule is not changed under it', async () => {
    expect(await raced(api, used(3), amended(3))).toBe(FROZEN);
    // The detection is of the version that stood when it was run: the program looks at that.
    expect(await raced(api, amended(4), used(4))).toBe(TAKEN);
  });

  test('names channels of its string that stand, and holds them', async () => {
    expect(await said(made({ channels: naming(1, 2) }))).toBe(TAKEN);
    expect([await said(made({ channels: naming(5) })), await said(made({ channels: naming(9) }))]).toEqual([CHECK, CHECK]);
    const withdrawn = (nth: number): Work => (manager) => amend(manager, 'channel', nth, { name: `ET-${nth}`, state: 'void' });
    expect([await said(withdrawn(1)), await said(withdrawn(2))]).toEqual([HELD, TAKEN]);
    expect(await raced(api, (manager) => another(manager, 'indication_rule', 10, { revision: '10', channels: naming(2) }), withdrawn(2))).toBe(HELD);
    expect(await raced(api, withdrawn(3), (manager) => another(manager, 'indication_rule', 11, { revision: '11', channels: naming(3) }))).toBe(CHECK);
  });

  test('says what a rule can', async () => {
    await refusals(made, [{ channels: '[]' }, { channels: '{}' }, { combining_mm: '-1' }, { minimum_length_mm: '-1' }, { bridged_gap_mm: '-1' }, { joint_mm: '-1' }, { splice_margin_mm: '-1' }, { repeats: 'first' }]);
  });
});

describe('a detection', () => {
  const made = (changes: Columns): Work => (manager) => another(manager, 'detection', 9, changes);

  test('keeps all that it says', async () => {
    const amended = (changes: Columns): Work => (manager) => amend(manager, 'detection', 1, changes);
    expect(await said(amended({ observed_at: '2026-03-02T08:20:00Z' }))).toBe(TAKEN);
    await refusals(amended, [
      { rule_id: idOf('indication_rule', 2) }, { rule_version: '2' }, { from_mm: null }, { to_mm: '5' }, { as_known_at: '2026-03-02T08:15:01Z' }, { saw: '[{}]' }, { not_placed: '[{}]' },
      { found: '[[]]', found_count: '1' },
    ]);
  });

  test('counts what it found, over an interval that is none the wrong way', async () => {
    expect(await said(made({ from_mm: null, to_mm: null }))).toBe(TAKEN);
    await refusals(made, [{ found_count: '1' }, { opened_count: '1' }, { opened_count: '-1' }, { from_mm: '-1' }, { from_mm: '5', to_mm: '5' }, { from_mm: null, to_mm: '0' }]);
  });
});

describe('an indication', () => {
  const made = (changes: Columns): Work => (manager) => another(manager, 'indication', 9, changes);
  const amended = (changes: Columns): Work => (manager) => amend(manager, 'indication', 1, changes);

  test('that was detected keeps where it is and what it showed, and stays detected; people add the rest', async () => {
    expect(await said(amended({ imperfection: 'hook crack', surface: null, clock_deg: '1', note: null }))).toBe(TAKEN);
    await refusals(amended, [{ given: '{}' }, { channel_ids: `{${idOf('channel', 2)}}` }, { method: 'UT' }, { peak: '12' }, { peak_unit: 'mm' }, { peak_is_bound: 'true' }, { detection_id: null }]);
    const adopted: Work = async (manager) => {
      await another(manager, 'indication', 9, { detection_id: null });
      await amend(manager, 'indication', 9, {});
    };
    expect(await said(adopted)).toBe(CHECK);
  });

  test('that a person saw names its method, and may be amended', async () => {
    const own: Work = async (manager) => {
      await another(manager, 'indication', 9, { detection_id: null, channel_ids: '{}' });
      await amend(manager, 'indication', 9, { detection_id: null, channel_ids: '{}', peak: '12', given: '{}' });
    };
    expect([await said(own), await said(made({ detection_id: null, method: null }))]).toEqual([TAKEN, CHECK]);
  });

  test('says a peak whole or not at all', async () => {
    expect(await said(made({ peak: null, peak_unit: null, peak_is_bound: null }))).toBe(TAKEN);
    await refusals(made, [{ peak: null }, { peak_unit: null }, { peak_is_bound: null }, { clock_deg: '361' }, { clock_deg: '-1' }, { surface: 'top' }, { method: 'XX' }, { channel_ids: '{}' }]);
  });
});

describe('an evaluation', () => {
  const relevant: Columns = { relevant: 'true', cause: null, cause_words: null };
  const made = (changes: Columns): Work => (manager) => another(manager, 'indication_evaluation', 9, changes);

  test('stays with its indication, and keeps the time that was left', async () => {
    const amended = (changes: Columns): Work => (manager) => amend(manager, 'indication_evaluation', 1, changes);
    expect(await said(amended({ verdict: 'mark', observed_at: '2026-03-02T08:20:00Z', note: null }))).toBe(TAKEN);
    await refusals(amended, [{ time_left: '{"minutes": "60"}' }, { indication_id: idOf('indication', 2) }]);
    await refusals(made, [{ time_left: '[]' }, { time_left: '5' }]);
  });

  test('says all of what belongs together, and nothing that does not', async () => {
    const unmeasured: Columns = { measured_depth_mm: null, measured_length_mm: null, remaining_wall_mm: null, limit_text: null, limit_min_wall_mm: null, limit_max_depth_mm: null };
    for (const changes of [relevant, { ...relevant, verdict: 'repair' }, { ...relevant, verdict: 'accept' }, { ...unmeasured, instrument_id: null }, { method: null, technique: null }]) {
      expect({ changes, said: await said(made(changes)) }).toEqual({ changes, said: TAKEN });
    }
    await refusals(made, [
      { relevant: 'true' }, { cause: null }, { cause: 'rain' }, { cause_words: null }, { ...relevant, cause_words: 'Bead' }, { verdict: 'repair' }, { verdict: 'cut-out' }, { verdict: 'fine' },
      { method: null }, { method: 'XX' }, { ...unmeasured }, { measured_depth_mm: '-0.1' }, { limit_text: null }, { limit_min_wall_mm: null, limit_max_depth_mm: null }, { level: '4' },
      { ...relevant, verdict: 'accept', remaining_wall_mm: '4.49' }, { ...relevant, verdict: 'accept', measured_depth_mm: '0.51' },
    ]);
  });

  test('holds what it is of and what it links', async () => {
    const withdrawn = (table: string): Work => (manager) => amend(manager, table, 1, { state: 'void' });
    for (const table of ['indication', 'examination', 'cut_out']) expect([table, await said(withdrawn(table))]).toEqual([table, HELD]);
  });
});
