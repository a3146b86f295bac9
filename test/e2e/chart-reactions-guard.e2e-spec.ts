import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import { startTestApi, type TestApi } from '../setup/api.js';
import { asActor, DESCRIBED, idOf, standRows, studied, trial, type Columns } from '../setup/record-rows.js';
import { amend, another, saidToBoth, type Work } from '../setup/row-trials.js';

const CHECK = '23514';
const OUTSIDE = 'EM006';
const HELD = 'EM007';
const TAKEN = 'taken';

let api: TestApi;

/** Rows of all kinds, and beside them another chart of the string with limits, and a string with a chart of its own. */
beforeAll(async () => {
  api = await startTestApi();
  await standRows(api.dataSource, DESCRIBED);
  await api.dataSource.transaction(async (manager) => {
    await asActor(manager);
    await another(manager, 'casing_string', 2, { name: 'Another string' });
    await another(manager, 'control_chart', 2, { code: 'WT-2' });
    await another(manager, 'chart_limits', 2, studied({ chart: { id: idOf('control_chart', 2), version: 1 } }));
    await another(manager, 'control_chart', 3, { string_id: idOf('casing_string', 2), characteristic: '{"of": "inspected", "channelIds": []}' });
    await another(manager, 'nonconformance', 2, { number: '2', string_id: idOf('casing_string', 2) });
  });
}, 60_000);
afterAll(() => api.close());

const said = (work: Work): Promise<string> => saidToBoth(api, work);
const made = (changes: Columns): Work => (manager) => another(manager, 'chart_reaction', 9, changes);

/** Refused by just this wall: `taken` without it. */
async function refusedBy(wall: string, state: string, work: Work): Promise<void> {
  const without = await trial(api.owner, async (manager) => {
    await manager.query(`alter table chart_reaction ${wall}`);
    await work(manager);
  });
  expect({ wall, said: await said(work), without }).toEqual({ wall, said: state, without: TAKEN });
}

const SIGNALS = 'disable trigger keep_signals';
const dropped = (name: string): string => `drop constraint ck_chart_reaction_${name}`;

describe('a reaction', () => {
  test('to the same signals or to others, however it was found and whatever followed, is taken', async () => {
    const unrepeated = { reading: 'not-repeated', repeated_value: null, repeated_with_instrument_id: null, not_repeated_because: 'Gone' };
    const others: Columns[] = [
      {}, unrepeated, { ...unrepeated, reading: 'real' }, { action: 'none-needed', nonconformance_id: null, did: null }, { action: 'stopped', nonconformance_id: null }, { watch_from_mm: null, watch_to_mm: null },
      { answers: '[{"fromMm": null, "toMm": null, "label": "LM-03"}]', cause: null, causes_looked_at: '{}' }, { repeated_value: '-5' },
    ];
    for (const changes of others) expect({ changes, said: await said(made(changes)) }).toEqual({ changes, said: TAKEN });
  });

  test('says what it answers, whether it is real, and what followed', async () => {
    for (const answers of ['[]', '{}', `[${Array(101).fill('{"label": "LM-03"}').join()}]`]) await refusedBy(dropped('answers'), CHECK, made({ answers }));
    await refusedBy(dropped('reading'), CHECK, made({ reading: 'maybe' }));
    await refusedBy(dropped('action'), CHECK, made({ action: 'prayed', nonconformance_id: null }));
  });

  test('was repeated, or says why not', async () => {
    for (const changes of [{ repeated_value: null }, { not_repeated_because: 'Gone' }, { reading: 'not-repeated' }, { repeated_value: null, not_repeated_because: 'Gone' }]) await refusedBy(dropped('repeated'), CHECK, made(changes));
  });

  test('marks some pipe or none', async () => {
    for (const changes of [{ watch_from_mm: null }, { watch_to_mm: null }, { watch_from_mm: '-1' }, { watch_to_mm: '211000' }]) await refusedBy(dropped('watch'), CHECK, made(changes));
  });

  test('says what was done to the line, and has a nonconformance where one followed', async () => {
    await refusedBy(dropped('did'), CHECK, made({ action: 'adjusted', nonconformance_id: null, did: null }));
    await refusedBy(dropped('of'), CHECK, made({ nonconformance_id: null }));
    await refusedBy(dropped('of'), CHECK, made({ action: 'adjusted' }));
  });

  test('is to signals of its chart and string', async () => {
    await refusedBy(SIGNALS, CHECK, made({ limits_id: idOf('chart_limits', 2) }));
    await refusedBy(SIGNALS, CHECK, made({ limits_id: idOf('person') }));
    await refusedBy(SIGNALS, CHECK, made({ chart_id: idOf('control_chart', 3) }));
    await refusedBy(SIGNALS, CHECK, made({ nonconformance_id: idOf('nonconformance', 2) }));
    await refusedBy(SIGNALS, CHECK, made({ string_id: idOf('casing_string', 2) }));
  });

  test('is to signals that have a place on the string, or a label', async () => {
    for (const signal of ['{}', '{"label": ""}', '{"fromMm": 5}', '{"toMm": 5}', '{"fromMm": 5, "toMm": 5}', '{"fromMm": -1, "toMm": 5}']) await refusedBy(SIGNALS, CHECK, made({ answers: `[${signal}]` }));
    await refusedBy(SIGNALS, OUTSIDE, made({ answers: '[{"fromMm": 5, "toMm": 4000001}]' }));
    await refusedBy(SIGNALS, OUTSIDE, made({ watch_to_mm: '4000001' }));
    expect(await said(made({ watch_to_mm: '4000000', answers: '[{"fromMm": 5, "toMm": 4000000}]' }))).toBe(TAKEN);
  });

  test('holds its chart and nonconformance, keeps the ground of its string, and lets its limits be withdrawn', async () => {
    const alone: Columns = { watch_to_mm: '3900000' };
    const shortened = (limit: string): Work => async (manager) => {
      await made(alone)(manager);
      await amend(manager, 'casing_string', 1, { footage_limit_mm: limit });
    };
    expect([await said(shortened('3899999')), await said(shortened('3900000'))]).toEqual([OUTSIDE, TAKEN]);
    const ofOther: Work = async (manager) => {
      await made({ chart_id: idOf('control_chart', 2), limits_id: idOf('chart_limits', 2) })(manager);
      await amend(manager, 'chart_limits', 2, { ...studied({ chart: { id: idOf('control_chart', 2), version: 1 } }), state: 'void' });
    };
    expect(await said(ofOther)).toBe(TAKEN);
    expect(await said(async (manager) => {
      await ofOther(manager);
      await amend(manager, 'control_chart', 2, { code: 'WT-2', state: 'void' });
    })).toBe(HELD);
    expect(await said((manager) => amend(manager, 'nonconformance', 1, { state: 'void' }))).toBe(HELD);
  });

  test('is withdrawn whatever became of what it names', async () => {
    expect(await said(async (manager) => {
      await amend(manager, 'chart_limits', 1, { state: 'void' });
      await amend(manager, 'chart_reaction', 1, { state: 'void' });
    })).toBe(TAKEN);
  });
});
