import { createHash } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import type { EntityManager } from 'typeorm';
import { EVIDENCE_STATES } from '#libs/evidence';
import { startTestApi, type TestApi } from '../setup/api.js';
import { asActor, DESCRIBED, evidenced, idOf, standRows, trial, type Columns } from '../setup/record-rows.js';
import { amend, another, CLOSED_AT, raced, saidToBoth, type Work } from '../setup/row-trials.js';

const NO_RIGHT = '42501';
const CHECK = '23514';
const NO_ACTOR = 'EM001';
const OTHER_STRING = 'EM003';
const AFTER_VOID = 'EM004';
const REWRITING = 'EM005';
const UNFIT = 'EM020';
const TAKEN = 'taken';
const LATER = '2026-03-02T11:00:00.000003Z';

let api: TestApi;

/** Rows of all kinds, and beside them another person and releases that nobody withdrew. */
beforeAll(async () => {
  api = await startTestApi();
  await standRows(api.dataSource, DESCRIBED);
  await api.dataSource.transaction(async (manager) => {
    await asActor(manager);
    await another(manager, 'person', 2, { name: 'Edda Voss', sign_in_name: 'mate', roles: '{qc-inspector}' });
    await another(manager, 'casing_string', 2, { name: 'Another string' });
    await another(manager, 'release', 2);
  });
}, 60_000);
afterAll(() => api.close());

const said = (work: Work): Promise<string> => saidToBoth(api, work);
const made = (changes: Columns): Work => (manager) => another(manager, 'release', 9, changes);
const withdrawn = (changes: Columns = {}): Work => (manager) => amend(manager, 'release', 1, { state: 'void', ...changes });

/** What the owner is told once one wall is taken down: what is refused by no other would come through. */
const without = (walls: readonly string[], work: Work): Promise<string> => trial(api.owner, async (manager) => {
  for (const wall of walls) await manager.query(`alter table release ${wall}`);
  await work(manager);
});

/** Refused by just this wall: `taken` without it. */
async function refusedBy(wall: string, state: string, work: Work): Promise<void> {
  expect({ wall, said: await said(work), without: await without([wall], work) }).toEqual({ wall, said: state, without: TAKEN });
}

const SIGNED = 'disable trigger signed';
const dropped = (name: string): string => `drop constraint ck_release_${name}`;

describe('a release', () => {
  test('of pipe that was released already, or is otherwise the same, is taken', async () => {
    expect([await said(made({})), await said(made({ own_work: 'false', own_work_because: null })), await said(made({ hang_off_mm: null }))]).toEqual([TAKEN, TAKEN, TAKEN]);
  });

  test('is never given on what failed, and says the worst of the evidence that it stands on', async () => {
    for (const worst of EVIDENCE_STATES) expect({ worst, said: await said(made(evidenced(worst))) }).toEqual({ worst, said: worst === 'failed' ? CHECK : TAKEN });
    await refusedBy(dropped('worst'), CHECK, made(evidenced('failed')));
    await refusedBy(dropped('worst'), CHECK, made({ worst: 'confirmed' }));
  });

  test('is held to the digest of its evidence, of the UTF-8 of the text', async () => {
    const { evidence_sha256: digest } = evidenced('provisional');
    await refusedBy(dropped('digest'), CHECK, made({ evidence: '{ "worst": "provisional" }' }));
    await refusedBy(dropped('digest'), CHECK, made({ evidence_sha256: 'b'.repeat(64) }));
    await refusedBy(dropped('digest'), CHECK, made({ evidence_sha256: digest?.toUpperCase() }));
    const evidence = '{"größe":5,"worst":"provisional"}';
    expect(await said(made({ evidence, evidence_sha256: createHash('sha256').update(evidence, 'utf8').digest('hex') }))).toBe(TAKEN);
  });

  test('is of some pipe, with its exceptions as a list', async () => {
    for (const interval of [{ from_mm: '-1' }, { to_mm: '0' }, { from_mm: '9', to_mm: '8' }]) await refusedBy(dropped('interval'), CHECK, made(interval));
    await refusedBy(dropped('exceptions'), CHECK, made({ exceptions: '{}' }));
  });

  test('of own work says why, and of no other work', async () => {
    await refusedBy(dropped('own_work'), CHECK, made({ own_work_because: null }));
    await refusedBy(dropped('own_work'), CHECK, made({ own_work: 'false' }));
  });

  test('is signed by whoever keys it, for nobody else', async () => {
    await refusedBy(dropped('signer'), CHECK, made({ done_by: idOf('person', 2) }));
    const unnamed: Work = async (manager) => {
      await manager.query("select set_config('app.actor', $1, true)", [idOf('person', 2)]);
      await made({})(manager);
    };
    expect(await said(unnamed)).toBe(NO_ACTOR);
  });

  test('is signed in the name and with roles that the signer has, one of them a right to release', async () => {
    for (const changes of [{ signer_name: 'Somebody else' }, { signer_roles: '{qc-inspector}' }, { signer_roles: '{materials-engineer,administrator}' }, { signer_roles: '{}' }]) {
      await refusedBy(SIGNED, UNFIT, made(changes));
    }
    const by = (roles: string, changes: Columns = {}): Work => async (manager) => {
      await another(manager, 'person', 4, { name: 'Rasmus Feld', sign_in_name: 'fourth', roles, ...changes });
      await manager.query("select set_config('app.actor', $1, true)", [idOf('person', 4)]);
      await made({ keyed_by: idOf('person', 4), done_by: idOf('person', 4), signer_name: 'Rasmus Feld', signer_roles: roles })(manager);
    };
    expect([await said(by('{qc-inspector}')), await said(by('{materials-engineer,qc-inspector}'))]).toEqual([TAKEN, TAKEN]);
    for (const roles of ['{auditor}', '{administrator}', '{administrator,auditor}']) await refusedBy(SIGNED, UNFIT, by(roles));
    await refusedBy(SIGNED, UNFIT, by('{qc-inspector}', { active: 'false' }));
    await refusedBy(SIGNED, UNFIT, by('{qc-inspector}', { state: 'void' }));
  });

  test('is not entered as withdrawn', async () => {
    await refusedBy(dropped('once'), CHECK, made({ state: 'void' }));
  });
});

describe('a second version of a release', () => {
  test('is its withdrawal, by whoever it may be that keys it: this is taken', async () => {
    const byMate: Work = async (manager) => {
      await manager.query("select set_config('app.actor', $1, true)", [idOf('person', 2)]);
      await withdrawn({ keyed_by: idOf('person', 2) })(manager);
    };
    expect([await said(withdrawn()), await said(byMate)]).toEqual([TAKEN, TAKEN]);
  });

  test('is nothing else: no release is amended', async () => {
    await refusedBy(dropped('once'), CHECK, withdrawn({ state: 'active' }));
  });

  test('says all that the first one said', async () => {
    const evidence = '{"worst":"provisional","lines":[]}';
    const other: Columns[] = [
      { from_mm: '1' }, { to_mm: '212001' }, evidenced('missing'), { exceptions: '[]' }, { own_work: 'false', own_work_because: null }, { own_work_because: 'Nobody else' }, { hang_off_mm: null },
      { hang_off_mm: '0' }, { grounds: 'Others' }, { statement: 'I release more' }, { evidence, evidence_sha256: createHash('sha256').update(evidence).digest('hex') }, { signer_name: 'Edda Voss' },
      { signer_roles: '{qc-inspector}' }, { signed_by: 'nobody' }, { done_by: idOf('person', 2) },
    ];
    for (const changes of other) await refusedBy(SIGNED, UNFIT, withdrawn(changes));
    expect(await said(withdrawn({ string_id: idOf('casing_string', 2) }))).toBe(OTHER_STRING);
    // Every column of the content is among these, so that one that is added later is looked at too.
    const columns: { name: string }[] = await api.owner.query("select column_name as name from information_schema.columns where table_name = 'release'");
    const common: { name: string }[] = await api.owner.query("select column_name as name from information_schema.columns where table_name = 'well'");
    const own = columns.map(({ name }) => name).filter((name) => !common.some((one) => one.name === name));
    expect([...new Set([...other.flatMap((changes) => Object.keys(changes)), 'string_id'])].filter((name) => name !== 'done_by').sort()).toEqual(own.sort());
  });

  test('is the last: a third one is refused by the order of versions and by its number', async () => {
    const third = (state: string): Work => async (manager: EntityManager) => {
      await withdrawn()(manager);
      await manager.query('update release set known_until = $2 where id = $1 and version = 2', [idOf('release'), LATER]);
      await another(manager, 'release', 1, { version: '3', state, known_from: LATER });
    };
    const order = 'disable trigger guard_version';
    for (const state of ['active', 'void']) {
      expect([state, await said(third(state)), await without([order], third(state)), await without([order, dropped('once')], third(state))]).toEqual([state, AFTER_VOID, CHECK, TAKEN]);
    }
  });

  test('at the same moment as another: whichever is second waits and is refused', async () => {
    const work: Work = (manager) => amend(manager, 'release', 2, { state: 'void' });
    expect(await raced(api, work, work)).toBe(REWRITING);
  });
});

test('a release is neither changed nor deleted, by the application for want of a right, by the owner because of the table itself', async () => {
  const statements = ["update release set grounds = 'Others'", 'update release set known_until = null', 'delete from release', 'truncate release'];
  for (const sql of statements) {
    const closed: Work = async (manager) => {
      await manager.query('update release set known_until = $2 where id = $1', [idOf('release'), CLOSED_AT]);
      await manager.query(sql);
    };
    const heard = [await trial(api.dataSource, closed), await trial(api.owner, closed)];
    // Closing is the one right that the application has; opening again is what the table refuses.
    expect({ sql, heard }).toEqual({ sql, heard: [sql.includes('known_until') ? REWRITING : NO_RIGHT, REWRITING] });
  }
  expect(await trial(api.owner, async (manager) => {
    await manager.query('alter table release disable trigger guard_version');
    await manager.query('delete from release');
  })).toBe(TAKEN);
});
