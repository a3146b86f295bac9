import { createHash } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import type { EntityManager } from 'typeorm';
import { startTestApi, type TestApi } from '../setup/api.js';
import { asActor, DESCRIBED, idOf, standRows, studied, trial, type Columns } from '../setup/record-rows.js';
import { amend, another, CLOSED_AT, raced, saidToBoth, type Work } from '../setup/row-trials.js';

const NO_RIGHT = '42501';
const CHECK = '23514';
const DUPLICATE = '23505';
const NO_ACTOR = 'EM001';
const OTHER_STRING = 'EM003';
const AFTER_VOID = 'EM004';
const REWRITING = 'EM005';
const HELD = 'EM007';
const UNFIT = 'EM021';
const TAKEN = 'taken';
const LATER = '2026-03-02T11:00:00.000003Z';

let api: TestApi;

/** Rows of all kinds, and beside them another person, another chart, and limits that nobody withdrew. */
beforeAll(async () => {
  api = await startTestApi();
  await standRows(api.dataSource, DESCRIBED);
  await api.dataSource.transaction(async (manager) => {
    await asActor(manager);
    await another(manager, 'person', 2, { name: 'Edda Voss', sign_in_name: 'mate', roles: '{materials-engineer}' });
    await another(manager, 'casing_string', 2, { name: 'Another string' });
    await another(manager, 'control_chart', 2, { code: 'WT-2' });
    await another(manager, 'chart_limits', 2, { number: '2' });
  });
}, 60_000);
afterAll(() => api.close());

const said = (work: Work): Promise<string> => saidToBoth(api, work);
/** What limits of the other chart say of it. */
const ofOther = studied({ chart: { id: idOf('control_chart', 2), version: 1 } });
/** The third limits of the chart. */
const made = (changes: Columns): Work => (manager) => another(manager, 'chart_limits', 9, { number: '3', ...changes });
const withdrawn = (changes: Columns = {}): Work => (manager) => amend(manager, 'chart_limits', 1, { state: 'void', ...changes });

/** What the owner is told once some walls are taken down: what is refused by no other would come through. */
const without = (walls: readonly string[], work: Work): Promise<string> => trial(api.owner, async (manager) => {
  for (const wall of walls) await manager.query(`alter table chart_limits ${wall}`);
  await work(manager);
});

/** Refused by just this wall: `taken` without it. */
async function refusedBy(wall: string, state: string, work: Work): Promise<void> {
  expect({ wall, said: await said(work), without: await without([wall], work) }).toEqual({ wall, said: state, without: TAKEN });
}

const SIGNED = 'disable trigger signed';
const dropped = (name: string): string => `drop constraint ck_chart_limits_${name}`;

describe('limits of a chart', () => {
  test('of the same pipe or of other pipe, with warnings or without, are taken', async () => {
    const plain = { ...studied({ warnings: [] }), removed: '[]', warnings_accepted_because: null, phi: null, coils: null };
    const placed = [studied({ span: { fromMm: 5, toMm: 6 } }), studied({ span: null })];
    expect([await said(made({})), await said(made(plain)), await said(made(placed[0] ?? {})), await said(made(placed[1] ?? {}))]).toEqual([TAKEN, TAKEN, TAKEN, TAKEN]);
  });

  test('are held to the digest of their study, of the UTF-8 of the text', async () => {
    const { study = '', study_sha256: digest } = studied();
    await refusedBy(dropped('digest'), CHECK, made({ study: `${String(study)} ` }));
    await refusedBy(dropped('digest'), CHECK, made({ study_sha256: 'b'.repeat(64) }));
    await refusedBy(dropped('digest'), CHECK, made({ study_sha256: digest?.toUpperCase() }));
    expect(await said(made(studied({ größe: 5 })))).toBe(TAKEN);
  });

  test('say what the study says: nothing is applied that nobody signed', async () => {
    const others: Columns[] = [
      { from_mm: '1' }, { to_mm: '211999' }, { from_mm: null, to_mm: null }, { limits: '{"chart": "ewma", "mean": 5.02, "sigma": 0.04}' }, { warnings: '[{}, {}]' },
      { chart_id: idOf('control_chart', 2), number: '1' },
    ];
    for (const changes of others) await refusedBy(dropped('study'), CHECK, made(changes));
    const none = '{}';
    await refusedBy(dropped('study'), CHECK, made({ study: none, study_sha256: createHash('sha256').update(none).digest('hex') }));
  });

  test('are of some pipe or of none, points and coils, with lists', async () => {
    for (const [fromMm, toMm] of [[-1, 9], [9, 9], [9, 8]]) await refusedBy(dropped('interval'), CHECK, made(studied({ span: { fromMm, toMm } })));
    for (const half of [{ from_mm: null }, { to_mm: null }]) expect(await without([dropped('interval'), dropped('study')], made(half))).toBe(TAKEN);
    for (const half of [{ from_mm: null }, { to_mm: null }]) expect(await without([dropped('study')], made(half))).toBe(CHECK);
    await refusedBy(dropped('interval'), CHECK, made({ applies_from_mm: '-1' }));
    for (const counted of [{ points: '1' }, { coils: '0' }, { phi: '1.001' }, { phi: '-1.001' }]) await refusedBy(dropped('counted'), CHECK, made(counted));
    for (const changes of [{ removed: '{}' }, studied({ warnings: {} })]) await refusedBy(dropped('lists'), CHECK, made(changes));
  });

  test('with warnings say why they are signed all the same, and without any nothing', async () => {
    await refusedBy(dropped('warnings'), CHECK, made({ warnings_accepted_because: null }));
    await refusedBy(dropped('warnings'), CHECK, made(studied({ warnings: [] })));
  });

  test('are signed by whoever keys them, for nobody else', async () => {
    await refusedBy(dropped('signer'), CHECK, made({ done_by: idOf('person', 2) }));
    const unnamed: Work = async (manager) => {
      await manager.query("select set_config('app.actor', $1, true)", [idOf('person', 2)]);
      await made({})(manager);
    };
    expect(await said(unnamed)).toBe(NO_ACTOR);
  });

  test('are signed by an engineer, in the name and with roles that the signer has', async () => {
    for (const changes of [{ signer_name: 'Somebody else' }, { signer_roles: '{qc-inspector}' }, { signer_roles: '{materials-engineer,administrator}' }, { signer_roles: '{}' }]) {
      await refusedBy(SIGNED, UNFIT, made(changes));
    }
    const by = (roles: string, changes: Columns = {}): Work => async (manager) => {
      await another(manager, 'person', 4, { name: 'Rasmus Feld', sign_in_name: 'fourth', roles, ...changes });
      await manager.query("select set_config('app.actor', $1, true)", [idOf('person', 4)]);
      await made({ keyed_by: idOf('person', 4), done_by: idOf('person', 4), signer_name: 'Rasmus Feld', signer_roles: roles })(manager);
    };
    expect([await said(by('{materials-engineer}')), await said(by('{materials-engineer,qc-inspector}'))]).toEqual([TAKEN, TAKEN]);
    for (const roles of ['{auditor}', '{administrator}', '{qc-inspector}', '{qc-inspector,auditor}']) await refusedBy(SIGNED, UNFIT, by(roles));
    await refusedBy(SIGNED, UNFIT, by('{materials-engineer}', { active: 'false' }));
    await refusedBy(SIGNED, UNFIT, by('{materials-engineer}', { state: 'void' }));
  });

  test('are of the chart as it stands, of its string and of its kind', async () => {
    await refusedBy(SIGNED, UNFIT, made(studied({ chart: { id: idOf('control_chart'), version: 2 } })));
    await refusedBy(SIGNED, UNFIT, made({ string_id: idOf('casing_string', 2) }));
    await refusedBy(SIGNED, UNFIT, made(studied({ limits: { chart: 'cusum', mean: 5, sigma: 1 } })));
    await refusedBy(SIGNED, UNFIT, made(studied({ limits: {} })));
    const amended = (changes: Columns): Work => async (manager) => {
      await amend(manager, 'control_chart', 2, { code: 'WT-2', ...changes });
      await made({ ...ofOther, number: '1' })(manager);
    };
    await refusedBy(SIGNED, UNFIT, amended({}));
    await refusedBy(SIGNED, UNFIT, amended({ state: 'void' }));
  });

  test('have the next number of their chart', async () => {
    await refusedBy(dropped('number'), CHECK, made({ number: '0' }));
    await refusedBy(SIGNED, UNFIT, made({ number: '4' }));
    for (const number of ['1', '2']) expect([await said(made({ number })), await trial(api.owner, async (manager) => {
      await manager.query('drop index uq_chart_limits_number');
      await made({ number })(manager);
    })]).toEqual([DUPLICATE, TAKEN]);
    expect(await said(made({ ...ofOther, number: '1' }))).toBe(TAKEN);
    await refusedBy(SIGNED, UNFIT, made({ ...ofOther, number: '2' }));
    // Withdrawn ones keep theirs.
    expect(await said(async (manager) => {
      await amend(manager, 'chart_limits', 2, { number: '2', state: 'void' });
      await made({ number: '2' })(manager);
    })).toBe(DUPLICATE);
  });

  test('are not entered as withdrawn', async () => {
    await refusedBy(dropped('once'), CHECK, made({ state: 'void' }));
  });

  test('hold their chart while they stand', async () => {
    expect(await said((manager) => amend(manager, 'control_chart', 1, { state: 'void' }))).toBe(HELD);
  });
});

describe('a chart whose limits stand', () => {
  const read = (changes: Columns): Work => (manager) => amend(manager, 'control_chart', 1, changes);
  const others: Columns[] = [{ unit: 'in' }, { characteristic: '{"of": "inspected", "name": "wall", "channelIds": []}' }];
  const onceWithdrawn: (changes: Columns) => Work = (changes) => async (manager) => {
    await withdrawn()(manager);
    await amend(manager, 'chart_limits', 2, { number: '2', state: 'void' });
    await read(changes)(manager);
  };

  test('reads what it read in its unit, whatever else is said of it; and what it may once they are withdrawn', async () => {
    expect(await said(read({ title: 'Another title', specification: null }))).toBe(TAKEN);
    for (const changes of others) {
      expect({ changes, said: await said(read(changes)) }).toEqual({ changes, said: UNFIT });
      expect({ changes, without: await trial(api.owner, async (manager) => {
        await manager.query('alter table control_chart disable trigger same_readings');
        await read(changes)(manager);
      }) }).toEqual({ changes, without: TAKEN });
      expect({ changes, said: await said(onceWithdrawn(changes)) }).toEqual({ changes, said: TAKEN });
    }
  });
});

describe('a second version of limits', () => {
  test('is their withdrawal, by whoever it may be that keys it, and after the chart was amended: this is taken', async () => {
    const byMate: Work = async (manager) => {
      await manager.query("select set_config('app.actor', $1, true)", [idOf('person', 2)]);
      await withdrawn({ keyed_by: idOf('person', 2) })(manager);
    };
    const afterwards: Work = async (manager) => {
      await amend(manager, 'control_chart', 1);
      await withdrawn()(manager);
    };
    expect([await said(withdrawn()), await said(byMate), await said(afterwards)]).toEqual([TAKEN, TAKEN, TAKEN]);
  });

  test('is nothing else: no limits are amended', async () => {
    await refusedBy(dropped('once'), CHECK, withdrawn({ state: 'active' }));
  });

  test('says all that the first one said', async () => {
    const other: Columns[] = [
      ofOther, studied({ chart: { id: idOf('control_chart'), version: 2 } }), { number: '7' }, { applies_from_mm: '0' }, studied({ span: { fromMm: 5, toMm: 212_000 } }), studied({ span: null }),
      studied({ span: { fromMm: 0, toMm: 5 } }), studied({ limits: { chart: 'ewma', mean: 5, sigma: 1 } }), { removed: '[]' }, { phi: null }, { phi: '0.63' }, { points: '25' }, { coils: null }, studied({ warnings: [{}, {}] }),
      { warnings_accepted_because: 'Others' }, studied({ more: 1 }), { grounds: 'Others' }, { statement: 'I approve more' }, { signer_name: 'Edda Voss' }, { signer_roles: '{qc-inspector}' },
      { signed_by: 'nobody' }, { done_by: idOf('person', 2) },
    ];
    for (const changes of other) await refusedBy(SIGNED, UNFIT, withdrawn(changes));
    expect(await said(withdrawn({ string_id: idOf('casing_string', 2) }))).toBe(OTHER_STRING);
    // Every column of the content is among these, so that one that is added later is looked at too.
    const columns: { name: string }[] = await api.owner.query("select column_name as name from information_schema.columns where table_name = 'chart_limits'");
    const common: { name: string }[] = await api.owner.query("select column_name as name from information_schema.columns where table_name = 'well'");
    const own = columns.map(({ name }) => name).filter((name) => !common.some((one) => one.name === name));
    expect([...new Set([...other.flatMap((changes) => Object.keys(changes)), 'string_id'])].filter((name) => name !== 'done_by').sort()).toEqual(own.sort());
  });

  test('is the last: a third one is refused by the order of versions and by its number', async () => {
    const third = (state: string): Work => async (manager: EntityManager) => {
      await withdrawn()(manager);
      await manager.query('update chart_limits set known_until = $2 where id = $1 and version = 2', [idOf('chart_limits'), LATER]);
      await another(manager, 'chart_limits', 1, { version: '3', state, known_from: LATER });
    };
    const order = 'disable trigger guard_version';
    for (const state of ['active', 'void']) {
      expect([state, await said(third(state)), await without([order], third(state)), await without([order, dropped('once')], third(state))]).toEqual([state, AFTER_VOID, CHECK, TAKEN]);
    }
  });
});

describe('at the same moment as another', () => {
  test('limits with the same number wait and are refused, whichever is second', async () => {
    const third = (nth: number): Work => (manager) => another(manager, 'chart_limits', nth, { number: '3' });
    expect(await raced(api, third(5), third(6))).toBe(DUPLICATE);
  });

  test('a withdrawal waits and is refused', async () => {
    const work: Work = (manager) => amend(manager, 'chart_limits', 2, { number: '2', state: 'void' });
    expect(await raced(api, work, work)).toBe(REWRITING);
  });
});

test('limits are neither changed nor deleted, by the application for want of a right, by the owner because of the table itself', async () => {
  const statements = ["update chart_limits set grounds = 'Others'", 'update chart_limits set known_until = null', 'delete from chart_limits', 'truncate chart_limits'];
  for (const sql of statements) {
    const closed: Work = async (manager) => {
      await manager.query('update chart_limits set known_until = $2 where id = $1', [idOf('chart_limits'), CLOSED_AT]);
      await manager.query(sql);
    };
    const heard = [await trial(api.dataSource, closed), await trial(api.owner, closed)];
    // Closing is the one right that the application has; opening again is what the table refuses.
    expect({ sql, heard }).toEqual({ sql, heard: [sql.includes('known_until') ? REWRITING : NO_RIGHT, REWRITING] });
  }
});
