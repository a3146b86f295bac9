import { createHash } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, test } from '@jest/globals';
import type { DataSource, EntityManager } from 'typeorm';
import { VERDICTS } from '#libs/conformity';
import { startTestApi, type TestApi } from '../setup/api.js';
import { asActor, DESCRIBED, evaluated, FILE_SHA256, idOf, insertRow, standRows, trial, type Columns } from '../setup/record-rows.js';
import { amend, another, CLOSED_AT, raced, saidToBoth, type Work } from '../setup/row-trials.js';

const NO_RIGHT = '42501';
const CHECK = '23514';
const DUPLICATE = '23505';
const NO_SUCH_RECORD = '23503';
const NO_ACTOR = 'EM001';
const REWRITING = 'EM005';
const RESTED_ON = 'EM007';
const FROZEN = 'EM008';
const SAME_KEYER = 'EM009';
const UNFIT = 'EM011';
const TAKEN = 'taken';

let api: TestApi;

/** Rows of all kinds, and beside them what nothing rests on: a coil, a certificate, a revision, two people. */
beforeAll(async () => {
  api = await startTestApi();
  await standRows(api.dataSource, DESCRIBED);
  await api.dataSource.transaction(async (manager) => {
    await asActor(manager);
    await another(manager, 'person', 2, { sign_in_name: 'second-keyer' });
    await another(manager, 'person', 3, { sign_in_name: 'third-keyer' });
    await another(manager, 'coil', 2, { number: 'LM-02' });
    await another(manager, 'certificate', 2, { number: 'C-119' });
    await another(manager, 'strip_specification', 2, { revision: '2' });
  });
});
afterAll(() => api.close());

const connections = (): DataSource[] => [api.dataSource, api.owner];
const said = (work: Work): Promise<string> => saidToBoth(api, work);

describe('a stored file', () => {
  const FILES = ['stored_file', 'stored_file_part'];

  test('is never changed or deleted, by the application for want of a right, by the owner because of the table itself', async () => {
    const columns: { table: string; column: string }[] = await api.owner.query(
      `select table_name as "table", column_name as "column" from information_schema.columns where table_name = any ($1) order by 1, 2`, [FILES],
    );
    expect(columns).toHaveLength(9);
    const changes = columns.map(({ table, column }) => `update ${table} set ${column} = ${column}`);
    const statements = [...changes, ...FILES.map((table) => `delete from ${table}`), ...FILES.map((table) => `truncate ${table} cascade`)];
    for (const sql of statements) {
      const heard = await Promise.all(connections().map((source) => trial(source, (manager) => manager.query(sql))));
      expect({ sql, heard }).toEqual({ sql, heard: [NO_RIGHT, REWRITING] });
    }
  });

  test('has its own guards, which the application cannot switch off', async () => {
    const guards: { said: string }[] = await api.owner.query(
      `select tgrelid::regclass || ' ' || tgname || ' ' || tgenabled::text as said from pg_trigger where tgname in ('keep_row', 'keep_table') and tgrelid::regclass::text = any ($1) order by 1`, [FILES],
    );
    expect(guards.map((guard) => guard.said)).toEqual(FILES.flatMap((table) => [`${table} keep_row O`, `${table} keep_table O`]));
    for (const table of FILES) {
      for (const change of ['disable trigger keep_row', 'disable trigger keep_table', `drop constraint pk_${table}`]) {
        expect(await trial(api.dataSource, (manager) => manager.query(`alter table ${table} ${change}`))).toBe(NO_RIGHT);
      }
    }
  });

  test('has a content that no other one has, a name that is a SHA-256, a size, and parts of its own', async () => {
    const file = (changes: Columns): Promise<string> => said((manager) => insertRow(manager, 'stored_file', {
      sha256: 'b'.repeat(64), media_type: 'text/csv', size_bytes: '2', part_count: '1', stored_at: CLOSED_AT, stored_by: idOf('person'), ...changes,
    }));
    expect(await file({})).toBe(TAKEN);
    expect(await file({ sha256: FILE_SHA256 })).toBe(DUPLICATE);
    for (const sha256 of ['B'.repeat(64), 'b'.repeat(63), 'b'.repeat(65), 'g'.repeat(64), '']) expect(await file({ sha256 })).toBe(CHECK);
    expect(await file({ size_bytes: '0' })).toBe(CHECK);
    expect(await file({ part_count: '0' })).toBe(CHECK);
    const part = (sha256: string, number: string): Promise<string> =>
      said((manager) => insertRow(manager, 'stored_file_part', { sha256, part_no: number, bytes: 'x' }));
    expect(await part(FILE_SHA256, '1')).toBe(TAKEN);
    expect(await part(FILE_SHA256, '0')).toBe(DUPLICATE);
    expect(await part('b'.repeat(64), '0')).toBe(NO_SUCH_RECORD);
  });
});

describe('a decision on a coil', () => {
  const next = (changes: Columns, table = 'coil_decision'): Promise<string> =>
    said((manager) => another(manager, table, 2, { sequence: '2', ...changes }));

  test('is followed by another decision: this is taken, under a number of its own', async () => {
    expect(await next({})).toBe(TAKEN);
    for (const sequence of ['0', '1', '3']) expect(await next({ sequence })).toBe(UNFIT);
    expect(await next({ sequence: '1', coil_id: idOf('coil', 2) })).toBe(TAKEN);
  });

  test('is never closed: the application has no right to, and the owner is refused', async () => {
    const closed = `update coil_decision set known_until = '${CLOSED_AT}'`;
    expect(await trial(api.dataSource, (manager) => manager.query(closed))).toBe(NO_RIGHT);
    expect(await trial(api.owner, (manager) => manager.query(closed))).toBe(CHECK);
  });

  test('gets no second version, is not withdrawn, and is not entered as void', async () => {
    for (const changes of [{}, { state: 'void' }]) {
      expect(await trial(api.dataSource, (manager) => amend(manager, 'coil_decision', 1, changes))).toBe(NO_RIGHT);
      expect(await trial(api.owner, (manager) => amend(manager, 'coil_decision', 1, changes))).toBe(CHECK);
      // Without closing the first, and with the order of versions unguarded, the constraint alone refuses it.
      const alone = await trial(api.owner, async (manager) => {
        await manager.query('alter table coil_decision disable trigger guard_version');
        await manager.query('alter table coil_decision disable trigger signed_in_turn');
        await another(manager, 'coil_decision', 1, { version: '2', sequence: '2', known_from: CLOSED_AT, ...changes });
      });
      expect(alone).toBe(CHECK);
    }
    expect(await next({ state: 'void' })).toBe(CHECK);
  });

  test('is refused without an actor, without a request, or keyed by somebody else', async () => {
    for (const forget of ["set_config('app.actor', '', true)", "set_config('app.request', '', true)", `set_config('app.actor', '${idOf('person', 2)}', true)`]) {
      const heard = await said(async (manager) => {
        await manager.query(`select ${forget}`);
        await another(manager, 'coil_decision', 2, { sequence: '2' });
      });
      expect({ forget, heard }).toEqual({ forget, heard: NO_ACTOR });
    }
  });

  test('is signed by whoever keys it, for nobody else', async () => {
    expect(await next({ done_by: idOf('person', 2) })).toBe(CHECK);
  });

  test('is signed by an engineer, in the name and with roles that person has', async () => {
    expect(await next({ signer_name: 'Somebody else' })).toBe(UNFIT);
    expect(await next({ signer_roles: '{qc-inspector}' })).toBe(UNFIT);
    expect(await next({ signer_roles: '{materials-engineer,administrator}' })).toBe(UNFIT);
    const by = (roles: string, active: string): Promise<string> => said(async (manager) => {
      await another(manager, 'person', 4, { sign_in_name: 'fourth', roles, active });
      await manager.query("select set_config('app.actor', $1, true)", [idOf('person', 4)]);
      await another(manager, 'coil_decision', 2, { sequence: '2', keyed_by: idOf('person', 4), done_by: idOf('person', 4) });
    });
    expect(await by('{materials-engineer,qc-inspector}', 'true')).toBe(TAKEN);
    expect(await by('{qc-inspector}', 'true')).toBe(UNFIT);
    expect(await by('{materials-engineer}', 'false')).toBe(UNFIT);
  });

  test('is held to the digest of the evaluation it stands on', async () => {
    const { evaluation_sha256: digest = '' } = evaluated('not-reported');
    expect(await next({ evaluation: '{ "verdict": "not-reported" }' })).toBe(CHECK);
    expect(await next({ evaluation_sha256: 'b'.repeat(64) })).toBe(CHECK);
    expect(await next({ evaluation_sha256: digest?.toUpperCase() })).toBe(CHECK);
    // Of the UTF-8 of the text, computed here and not by the database.
    const evaluation = '{"größe":5,"verdict":"not-reported"}';
    expect(await next({ evaluation, evaluation_sha256: createHash('sha256').update(evaluation, 'utf8').digest('hex') })).toBe(TAKEN);
  });

  test('has the verdict of the evaluation it stands on', async () => {
    expect(await next({ verdict: 'does-not-conform' })).toBe(CHECK);
    expect(await next(evaluated('does-not-conform'))).toBe(TAKEN);
  });

  test('accepts only what conforms; every other decision is taken whatever the verdict', async () => {
    const plain = { concession_limit: null };
    for (const verdict of VERDICTS) {
      const heard = await next({ ...plain, decision: 'accept', ...evaluated(verdict) });
      expect({ verdict, heard }).toEqual({ verdict, heard: verdict === 'conforms' ? TAKEN : CHECK });
      expect(await next(evaluated(verdict))).toBe(TAKEN);
      for (const decision of ['hold', 'reject', 'return']) expect(await next({ ...plain, decision, ...evaluated(verdict) })).toBe(TAKEN);
    }
    expect(VERDICTS.length).toBeGreaterThan(3);
    expect(await next({ ...plain, decision: 'release' })).toBe(CHECK);
  });

  test('has a limit when it accepts under concession, and only then', async () => {
    expect(await next({ concession_limit: null })).toBe(CHECK);
    for (const decision of ['hold', 'accept', 'reject', 'return']) expect(await next({ decision, ...evaluated('conforms') })).toBe(CHECK);
  });
});

describe('a revision of a specification', () => {
  test('that nothing names is amended: this is taken', async () => {
    expect(await said((manager) => amend(manager, 'strip_specification', 2, { revision: '2', title: 'Slit strip, corrected' }))).toBe(TAKEN);
  });

  test('is frozen once an order names it, even when the order is withdrawn', async () => {
    const order = (manager: EntityManager, changes: Columns = {}): Promise<void> =>
      another(manager, 'strip_order', 2, { number: 'PO-2', specification_id: idOf('strip_specification', 2), ...changes });
    const corrected = (manager: EntityManager): Promise<void> => amend(manager, 'strip_specification', 2, { revision: '2', title: 'Corrected' });
    expect(await said(async (manager) => {
      await order(manager);
      await corrected(manager);
    })).toBe(FROZEN);
    expect(await said(async (manager) => {
      await order(manager, { state: 'void' });
      await corrected(manager);
    })).toBe(FROZEN);
    expect(await said(async (manager) => {
      await order(manager);
      await amend(manager, 'strip_order', 2, { number: 'PO-2', specification_id: idOf('strip_specification', 2), state: 'void' });
      await corrected(manager);
    })).toBe(FROZEN);
  });

  test('is frozen by a decision as well, and is not withdrawn while anything names it', async () => {
    const decided = (manager: EntityManager): Promise<void> =>
      another(manager, 'coil_decision', 2, { sequence: '2', specification_id: idOf('strip_specification', 2) });
    for (const [state, expected] of [['active', FROZEN], ['void', RESTED_ON]] as const) {
      expect(await said(async (manager) => {
        await decided(manager);
        await amend(manager, 'strip_specification', 2, { revision: '2', state });
      })).toBe(expected);
    }
    expect(await said((manager) => amend(manager, 'strip_specification', 2, { revision: '2', state: 'void' }))).toBe(TAKEN);
  });

  test('is one of its kind, whatever the case of its number, unless it is void', async () => {
    const third = (changes: Columns): Promise<string> => said((manager) => another(manager, 'strip_specification', 3, changes));
    expect(await third({ revision: '3' })).toBe(TAKEN);
    expect(await third({ number: 'sts-12' })).toBe(DUPLICATE);
    expect(await third({ number: 'sts-12', state: 'void' })).toBe(TAKEN);
  });

  test('ordered to and amended at the same moment: whoever is second waits and is told', async () => {
    await api.dataSource.transaction(async (manager) => {
      await asActor(manager);
      await another(manager, 'strip_specification', 9, { revision: '9' });
    });
    const heard = await raced(
      api,
      (manager) => another(manager, 'strip_order', 9, { number: 'PO-9', specification_id: idOf('strip_specification', 9) }),
      (manager) => amend(manager, 'strip_specification', 9, { revision: '9' }),
    );
    expect(heard).toBe(FROZEN);
  });
});

describe('the second keying of a certificate', () => {
  const [FIRST, SECOND, THIRD] = [1, 2, 3].map((nth) => idOf('person', nth)) as [string, string, string];

  /** Keys the certificate that nobody keyed yet, or amends a keying of it, as `by` for `doneBy`. */
  async function key(manager: EntityManager, keying: 1 | 2, by: string, { doneBy = by, isAgain = false, changes = {} } = {}): Promise<void> {
    await manager.query("select set_config('app.actor', $1, true)", [by]);
    const row = { certificate_id: idOf('certificate', 2), keying: String(keying), keyed_by: by, done_by: doneBy, ...changes };
    if (isAgain) await amend(manager, 'certificate_transcription', keying + 1, row);
    else await another(manager, 'certificate_transcription', keying + 1, row);
  }

  test('is another person\'s: this is taken, in either order', async () => {
    for (const keyings of [[1, 2], [2, 1]] as const) {
      expect(await said(async (manager) => {
        await key(manager, keyings[0], FIRST);
        await key(manager, keyings[1], SECOND);
      })).toBe(TAKEN);
    }
  });

  test('is refused from whoever keyed or read the first, in either order', async () => {
    const pairs: [{ by: string; doneBy: string }, { by: string; doneBy: string }][] = [
      [{ by: FIRST, doneBy: FIRST }, { by: FIRST, doneBy: FIRST }],
      [{ by: FIRST, doneBy: SECOND }, { by: SECOND, doneBy: SECOND }],
      [{ by: FIRST, doneBy: FIRST }, { by: SECOND, doneBy: FIRST }],
      [{ by: FIRST, doneBy: SECOND }, { by: FIRST, doneBy: THIRD }],
      [{ by: FIRST, doneBy: SECOND }, { by: THIRD, doneBy: SECOND }],
    ];
    for (const [one, other] of pairs) {
      for (const [first, second] of [[one, other], [other, one]] as const) {
        const heard = await said(async (manager) => {
          await key(manager, 1, first.by, { doneBy: first.doneBy });
          await key(manager, 2, second.by, { doneBy: second.doneBy });
        });
        expect({ first, second, heard }).toEqual({ first, second, heard: SAME_KEYER });
      }
    }
  });

  test('is not amended by whoever made the first, nor the first by whoever made the second; a third person amends either', async () => {
    const amended = (keying: 1 | 2, by: string): Promise<string> => said(async (manager) => {
      await key(manager, 1, FIRST);
      await key(manager, 2, SECOND);
      await key(manager, keying, by, { isAgain: true });
    });
    expect(await amended(2, FIRST)).toBe(SAME_KEYER);
    expect(await amended(1, SECOND)).toBe(SAME_KEYER);
    expect([await amended(1, FIRST), await amended(2, SECOND), await amended(1, THIRD), await amended(2, THIRD)]).toEqual([TAKEN, TAKEN, TAKEN, TAKEN]);
  });

  test('is refused from whoever had a hand in any version of the first, however it stands now', async () => {
    const second = (by: string): Promise<string> => said(async (manager) => {
      await key(manager, 1, FIRST);
      await key(manager, 1, SECOND, { isAgain: true });
      await key(manager, 2, by);
    });
    expect([await second(FIRST), await second(SECOND), await second(THIRD)]).toEqual([SAME_KEYER, SAME_KEYER, TAKEN]);
  });

  test('is refused when its own earlier versions are by whoever made the first', async () => {
    const moved = (first: string): Promise<string> => said(async (manager) => {
      await another(manager, 'certificate', 3, { number: 'C-120' });
      await key(manager, 1, FIRST);
      await key(manager, 2, first, { changes: { certificate_id: idOf('certificate', 3) } });
      await key(manager, 2, THIRD, { isAgain: true });
    });
    expect([await moved(FIRST), await moved(SECOND)]).toEqual([SAME_KEYER, TAKEN]);
  });

  test('may be the same person\'s once the first is withdrawn, or of another certificate', async () => {
    expect(await said(async (manager) => {
      await key(manager, 1, FIRST);
      await key(manager, 1, FIRST, { isAgain: true, changes: { state: 'void' } });
      await key(manager, 2, FIRST);
    })).toBe(TAKEN);
    expect(await said((manager) => key(manager, 2, FIRST))).toBe(TAKEN);
    expect(await said((manager) => key(manager, 2, FIRST, { changes: { certificate_id: idOf('certificate') } }))).toBe(SAME_KEYER);
  });

  test('each keying is there once', async () => {
    expect(await said(async (manager) => {
      await key(manager, 1, FIRST);
      await key(manager, 1, SECOND, { changes: { id: idOf('certificate_transcription', 4) } });
    })).toBe(DUPLICATE);
  });

  test('both keyed by one person at the same moment: whichever is second waits and is refused', async () => {
    await api.dataSource.transaction(async (manager) => {
      await asActor(manager);
      await another(manager, 'certificate', 9, { number: 'C-9' });
    });
    const keyed = (keying: 1 | 2) => (manager: EntityManager): Promise<void> =>
      key(manager, keying, FIRST, { changes: { id: idOf('certificate_transcription', keying + 8), certificate_id: idOf('certificate', 9) } });
    expect(await raced(api, keyed(1), keyed(2))).toBe(SAME_KEYER);
  });
});
