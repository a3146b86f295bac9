import { afterAll, beforeAll, describe, expect, jest, test } from '@jest/globals';
import type { DataSource, EntityManager } from 'typeorm';
import { startTestApi, type TestApi } from '../setup/api.js';
import {
  asActor, DESCRIBED, firstVersion, idOf, insertRow, KNOWN_FROM, recordTables, standRows, trial, type Columns,
} from '../setup/record-rows.js';

const NO_RIGHT = '42501';
const CHECK = '23514';
const DUPLICATE = '23505';
const OVERLAP = '23P01';
const NO_ACTOR = 'EM001';
const OUT_OF_ORDER = 'EM002';
const OTHER_STRING = 'EM003';
const AFTER_VOID = 'EM004';
const REWRITING = 'EM005';
const OUTSIDE_STRING = 'EM006';
const RESTED_ON = 'EM007';
const NOT_ACCEPTED = 'EM010';
const NO_SUCH_RECORD = '23503';
const TAKEN = 'taken';

const CLOSED_AT = '2026-03-02T10:00:00.000002Z';

/** Tables that hold no records: nothing in them is a quality record, and none is ever a version of one. */
const NO_RECORDS = [
  'credential', 'device_secret', 'migrations', 'number_series', 'request_key', 'session', 'sign_in_failure', 'signal_block', 'signal_detachment', 'signal_part', 'signal_upload', 'signal_upload_end',
  'stored_file', 'stored_file_part', 'string_revision', 'string_watch',
];

/** Records of it are neither amended nor withdrawn: one that follows takes the place of the last. */
const NEVER_AMENDED = 'coil_decision';

/** The only second version of them is their withdrawal. */
const ONLY_WITHDRAWN = ['release', 'chart_limits'];

/** Revisions that nothing names and a handover that nobody accepted, by table: any other one is frozen. */
const FREE_REVISIONS: Readonly<Record<string, Columns>> = {
  strip_specification: { id: idOf('strip_specification', 2), revision: '2' }, weld_procedure: { id: idOf('weld_procedure', 2), revision: '2' },
  sampling_plan: { id: idOf('sampling_plan', 2), revision: '2' }, indication_rule: { id: idOf('indication_rule', 2), revision: '2' },
  handover: { id: idOf('handover', 2) },
};

/** What only a record of another kind than those here would rest on. */
const NAMED_BY_NONE = ['destructive_test', 'rejoin', 'seam_event'];

/** What a standing record names in a list, which has no key. */
const NAMED_IN_A_LIST = ['channel'];

/** References that are refused for another reason before their key is asked, and how that reason is taken away. */
const SPEAKS_BEFORE_KEY: Readonly<Record<string, readonly [string, string]>> = {
  // The decisions on a coil that is not there have no last one to follow.
  'coil_decision.coil_id': ['EM011', 'disable trigger signed_in_turn'],
  'coil_decision.done_by': [CHECK, 'drop constraint ck_coil_decision_signer'],
  'coil_segment.coil_id': [NOT_ACCEPTED, 'disable trigger accepted_coil'],
  'splice.entering_coil_id': [NOT_ACCEPTED, 'disable trigger accepted_coil'],
  'splice.leaving_coil_id': [NOT_ACCEPTED, 'disable trigger accepted_coil'],
  // An acceptance stays with its handover.
  'handover_acceptance.handover_id': ['EM012', 'disable trigger acceptance_stays'],
  // What a detection found, an indication was opened by, and an evaluation is of, stays.
  'detection.rule_id': [CHECK, 'disable trigger keep_content'],
  'indication.detection_id': [CHECK, 'disable trigger keep_detected'],
  'indication_evaluation.indication_id': [CHECK, 'disable trigger keep_decision'],
  // A lifting stays with its hold.
  'hold_lifting.hold_id': [CHECK, 'disable trigger keep_hold'],
  // What a release said stays, and who signed it.
  'release.done_by': ['EM020', 'disable trigger signed'],
  // And so does what limits said, whose chart it is of among it.
  'chart_limits.chart_id': ['EM021', 'disable trigger signed, drop constraint ck_chart_limits_study'],
  'chart_reaction.chart_id': [CHECK, 'disable trigger keep_signals'],
  'chart_limits.done_by': ['EM021', 'disable trigger signed'],
  // A weld is of a splice or of a re-join, never of both.
  'weld.rejoin_id': [CHECK, 'drop constraint ck_weld_of'],
  // So is a repair; and an examination is of one thing only.
  'repair.rejoin_id': [CHECK, 'drop constraint ck_repair_of'],
  'examination.splice_id': [CHECK, 'drop constraint ck_examination_of'],
  'examination.rejoin_id': [CHECK, 'drop constraint ck_examination_of'],
  // It stands in for nothing here, so nobody says that it does.
  'examination.stand_in_by': [CHECK, 'drop constraint ck_examination_stand_in'],
  // A sample has one origin.
  'test_sample.seam_event_id': [CHECK, 'drop constraint ck_test_sample_seam_event'],
  'test_sample.splice_id': [CHECK, 'drop constraint ck_test_sample_origin'],
};

// Every column of every table is tried, and the cores are shared with other suites.
jest.setTimeout(180_000);

let api: TestApi;
let tables: string[];
/** Those whose records get new versions. */
let amendable: string[];

beforeAll(async () => {
  api = await startTestApi();
  tables = await recordTables(api.owner);
  amendable = tables.filter((table) => table !== NEVER_AMENDED);
  await standRows(api.dataSource, DESCRIBED);
  await api.dataSource.transaction(async (manager) => {
    await asActor(manager);
    await insertRow(manager, 'casing_string', firstVersion('casing_string', { id: idOf('casing_string', 2), name: 'Another string' }));
    for (const [table, revision] of Object.entries(FREE_REVISIONS)) await insertRow(manager, table, firstVersion(table, revision));
  });
});
afterAll(() => api.close());

const connections = (): [string, DataSource][] => [['the application', api.dataSource], ['the owner', api.owner]];

/** What the database says to `work` for each table, tried as `source`. */
async function overTables(
  source: DataSource,
  work: (manager: EntityManager, table: string) => Promise<unknown>,
  names: readonly string[] = tables,
): Promise<Record<string, string>> {
  const said: Record<string, string> = {};
  for (const table of names) said[table] = await trial(source, (manager) => work(manager, table));
  return said;
}

const each = (names: readonly string[], state: string): Record<string, string> =>
  Object.fromEntries(names.map((name) => [name, state]));

/** The record of a table that is amended here. */
const subject = (table: string): Columns => FREE_REVISIONS[table] ?? { id: idOf(table) };

/** Closes the open version of the table's row. */
const close = (manager: EntityManager, table: string, version = 1, at = CLOSED_AT, { id } = subject(table)): Promise<unknown> =>
  manager.query(`update ${table} set known_until = $3 where id = $1 and version = $2`, [id, version, at]);

const second = (table: string, changes: Columns = {}): Columns =>
  firstVersion(table, { version: '2', known_from: CLOSED_AT, reason: 'Read again', ...(ONLY_WITHDRAWN.includes(table) ? { state: 'void' } : {}), ...subject(table), ...changes });

async function columnsWhere(condition: string): Promise<{ table: string; column: string }[]> {
  return api.owner.query(
    `select table_name as "table", column_name as "column" from information_schema.columns
      where table_schema = 'public' and (${condition}) order by table_name, ordinal_position`,
  );
}

describe('the tables', () => {
  test('every table of the database is a record table with its guards, or known to hold no records', async () => {
    const all: { name: string }[] = await api.owner.query(
      "select table_name as name from information_schema.tables where table_schema = 'public' and table_type = 'BASE TABLE'",
    );
    expect(all.map(({ name }) => name).sort()).toEqual([...tables, ...NO_RECORDS].sort());
    expect([...DESCRIBED].sort()).toEqual(tables);
    const guarded: { name: string; triggers: string[] }[] = await api.owner.query(
      `select c.relname as name, array_agg(t.tgname::text order by t.tgname) as triggers
         from pg_trigger t join pg_class c on c.oid = t.tgrelid
        where t.tgname in ('guard_version', 'guard_truncate') and t.tgenabled = 'O' group by 1 order by 1`,
    );
    expect(guarded).toEqual(tables.map((name) => ({ name, triggers: ['guard_truncate', 'guard_version'] })));
  });

  test('the application works as its own role and can neither switch triggers off nor change the schema', async () => {
    expect(await api.dataSource.query('select current_user')).toEqual([{ current_user: 'everymetre_app' }]);
    expect(await trial(api.dataSource, (manager) => manager.query('set local session_replication_role = replica'))).toBe(NO_RIGHT);
    const statements = (table: string): string[] => [
      `alter table ${table} disable trigger guard_version`, `alter table ${table} drop constraint pk_${table}`, `drop table ${table}`,
      `create or replace trigger guard_version before insert on ${table} for each row execute function guard_version()`,
    ];
    for (const nth of [0, 1, 2, 3]) {
      const said = await overTables(api.dataSource, (manager, table) => manager.query(statements(table)[nth] ?? ''));
      expect(said).toEqual(each(tables, NO_RIGHT));
    }
  });
});

describe('what was written stays as it was', () => {
  test('no column of an open version can be changed but known_until', async () => {
    const columns = await columnsWhere(`table_name = any (array['${tables.join("','")}']) and column_name not in ('known_until', 'one')`);
    expect(columns.length).toBeGreaterThan(15 * tables.length);
    const empty: string[] = [];
    for (const { table, column } of columns) {
      const [{ is_null: isNull } = { is_null: true }]: { is_null: boolean }[] = await api.owner.query(
        `select ${column} is null as is_null from ${table} where id = $1`, [idOf(table)],
      );
      if (isNull) empty.push(`${table}.${column}`);
      const change = `update ${table} set ${column} = null where id = $1`;
      const closing = `update ${table} set known_until = clock_timestamp(), ${column} = null where id = $1`;
      const said: string[] = [];
      for (const [, source] of connections()) {
        for (const sql of [change, closing]) said.push(await trial(source, (manager) => manager.query(sql, [idOf(table)])));
      }
      const closes = isNull ? TAKEN : REWRITING;
      expect({ column: `${table}.${column}`, said }).toEqual({ column: `${table}.${column}`, said: [NO_RIGHT, NO_RIGHT, REWRITING, closes] });
    }
    // The only values that the rows here cannot have beside their others, so that nothing was left to change.
    expect(empty).toEqual(['calibration.reference_instrument_id', 'chart_reaction.not_repeated_because', 'control_chart.k', 'control_chart.h', 'control_chart.batch_size', 'control_chart.alpha', 'counter_period.previous_end_reading', 'destructive_test.stated', 'destructive_test.follows_test_id', 'destructive_test.flaring', 'destructive_test.reverse_bend',
      'destructive_test.reverse_flattening', 'examination.splice_id', 'examination.rejoin_id', 'examination.stand_in_reason', 'examination.stand_in_by', 'handover.next_shift_id', 'qualification_proof.reason_given', 'repair.rejoin_id',
      'test_sample.stop_footage_mm', 'test_sample.stop_side', 'test_sample.footage_mm', 'test_sample.splice_id', 'test_sample.seam_event_id', 'weld.rejoin_id']);
  });

  test('DELETE and TRUNCATE are refused, to the owner too', async () => {
    for (const [sql, cascade] of [['delete from', ''], ['truncate', ' cascade']]) {
      const said = (source: DataSource): Promise<Record<string, string>> =>
        overTables(source, (manager, table) => manager.query(`${sql} ${table}${cascade}`));
      expect(await said(api.dataSource)).toEqual(each(tables, NO_RIGHT));
      expect(await said(api.owner)).toEqual(each(tables, REWRITING));
    }
  });

  test('an open version can be closed, once, after its beginning; a closed one is neither opened nor moved', async () => {
    for (const [, source] of connections()) {
      expect(await overTables(source, (manager, table) => close(manager, table), amendable)).toEqual(each(amendable, TAKEN));
      expect(await overTables(source, (manager, table) => close(manager, table, 1, KNOWN_FROM), amendable)).toEqual(each(amendable, CHECK));
      for (const again of ['null', 'clock_timestamp()']) {
        const said = await overTables(source, async (manager, table) => {
          await close(manager, table);
          await manager.query(`update ${table} set known_until = ${again} where id = $1`, [subject(table).id]);
        }, amendable);
        expect(said).toEqual(each(amendable, REWRITING));
      }
    }
  });
});

describe('a new version', () => {
  const amended = (source: DataSource, changes: (table: string) => Columns, closeFirst = true): Promise<Record<string, string>> =>
    overTables(source, async (manager, table) => {
      if (closeFirst) await close(manager, table);
      await insertRow(manager, table, second(table, changes(table)));
    }, amendable);

  test('follows its predecessor: this is taken', async () => {
    for (const [, source] of connections()) expect(await amended(source, () => ({}))).toEqual(each(amendable, TAKEN));
  });

  test('is refused without an actor, without a request, or keyed by somebody else', async () => {
    for (const [, source] of connections()) {
      for (const forget of ["set_config('app.actor', '', true)", "set_config('app.request', '', true)", `set_config('app.actor', '${idOf('well')}', true)`]) {
        const said = await overTables(source, async (manager, table) => {
          await close(manager, table);
          await manager.query(`select ${forget}`);
          await insertRow(manager, table, second(table));
        }, amendable);
        expect(said).toEqual(each(amendable, NO_ACTOR));
      }
    }
  });

  test('is refused with a gap before it, beside an open one, closed, or apart in time', async () => {
    for (const [, source] of connections()) {
      expect(await amended(source, () => ({ version: '3' }))).toEqual(each(amendable, OUT_OF_ORDER));
      expect(await amended(source, () => ({}), false)).toEqual(each(amendable, OUT_OF_ORDER));
      expect(await amended(source, () => ({ known_until: '2026-03-02T11:00:00Z' }))).toEqual(each(amendable, OUT_OF_ORDER));
      expect(await amended(source, () => ({ known_from: '2026-03-02T10:00:00.000003Z' }))).toEqual(each(amendable, OUT_OF_ORDER));
      expect(await amended(source, () => ({ version: '1', state: 'active' }))).toEqual(each(amendable, DUPLICATE));
      expect(await amended(source, () => ({ version: '0' }))).toEqual(each(amendable, CHECK));
      expect(await amended(source, () => ({ reason: null }))).toEqual(each(amendable, CHECK));
    }
  });

  test('two open versions are refused even where the trigger is off', async () => {
    const said = await overTables(api.owner, async (manager, table) => {
      await manager.query(`alter table ${table} disable trigger guard_version`);
      if (table === NEVER_AMENDED) await manager.query(`alter table ${table} disable trigger signed_in_turn`);
      await insertRow(manager, table, second(table));
    });
    // The name of the open row is taken as well, whichever index speaks first.
    const spoken = Object.entries(said).filter(([, state]) => ![DUPLICATE, OVERLAP].includes(state));
    expect(spoken).toEqual([[NEVER_AMENDED, CHECK]]);
    const indexes: { name: string }[] = await api.owner.query(
      `select tablename as name from pg_indexes where indexname = 'uq_' || tablename || '_open'
          and indexdef like '%UNIQUE INDEX%(id) WHERE (known_until IS NULL)' order by 1`,
    );
    expect(indexes.map(({ name }) => name)).toEqual(tables);
  });

  test('stays with its string', async () => {
    const onString = (await columnsWhere("column_name = 'string_id'")).map(({ table }) => table).filter((table) => tables.includes(table));
    expect(onString.length).toBeGreaterThan(8);
    for (const [, source] of connections()) {
      const said = await overTables(source, async (manager, table) => {
        await close(manager, table);
        await insertRow(manager, table, second(table, { string_id: idOf('casing_string', 2) }));
      }, onString);
      expect(said).toEqual(each(onString, OTHER_STRING));
    }
  });

  test('never follows a void one', async () => {
    // A record of its own, on which no other one rests.
    const own = (table: string): Columns => ({
      id: idOf(table, 3), ...(table === 'person' ? { sign_in_name: 'void-one' } : {}), ...(table === 'nonconformance' ? { number: '2' } : {}),
    });
    for (const [, source] of connections()) {
      const said = await overTables(source, async (manager, table) => {
        await insertRow(manager, table, firstVersion(table, { ...own(table), state: 'void' }));
        await manager.query(`update ${table} set known_until = $2 where id = $1`, [idOf(table, 3), CLOSED_AT]);
        await insertRow(manager, table, second(table, own(table)));
      }, amendable);
      // Releases and limits are not entered as void at all.
      expect(said).toEqual({ ...each(amendable, AFTER_VOID), ...each(ONLY_WITHDRAWN, CHECK) });
    }
  });

  test('a record that refers to one that does not exist is refused', async () => {
    const all: { table: string; column: string }[] = await api.owner.query(
      `select conrelid::regclass::text as "table", substr(conname, length(conrelid::regclass::text) + 5) as "column"
         from pg_constraint where contype = 'f' order by conname`,
    );
    const references = all.filter(({ table }) => tables.includes(table));
    expect(references.length).toBeGreaterThan(2 * tables.length);
    for (const { table, column } of references.filter(({ column: name }) => name !== 'keyed_by' && name !== 'string_id')) {
      const [first, removal] = SPEAKS_BEFORE_KEY[`${table}.${column}`] ?? [NO_SUCH_RECORD, null];
      const said = await trial(api.dataSource, (manager) => referring(manager, table, column));
      expect({ table, column, said }).toEqual({ table, column, said: first });
      if (removal === null) continue;
      const alone = await trial(api.owner, async (manager) => {
        await manager.query(`alter table ${table} ${removal}`);
        await referring(manager, table, column);
      });
      expect({ table, column, alone }).toEqual({ table, column, alone: NO_SUCH_RECORD });
    }
  });

  /** Writes a version whose `column` names a record that does not exist. */
  async function referring(manager: EntityManager, table: string, column: string): Promise<void> {
    const nothing = { [column]: idOf('person', 9) };
    if (table === NEVER_AMENDED) {
      await insertRow(manager, table, firstVersion(table, { id: idOf(table, 2), sequence: '2', ...nothing }));
      return;
    }
    await close(manager, table);
    await insertRow(manager, table, second(table, nothing));
  }
});

describe('numbers and ground', () => {
  const another = (table: string, changes: Columns): Promise<string> =>
    trial(api.dataSource, (manager) => insertRow(manager, table, firstVersion(table, { id: idOf(table, 2), ...changes })));

  test('NaN and infinity in every measured column', async () => {
    const measured = await columnsWhere("domain_name = 'measured'");
    const numeric = await columnsWhere("data_type in ('numeric', 'real', 'double precision')");
    // No number that can be NaN escapes the domain.
    expect(numeric).toEqual(measured);
    expect(measured.length).toBeGreaterThan(30);
    for (const { table, column } of measured) {
      const said = [];
      for (const value of ['NaN', 'Infinity', '-Infinity']) said.push(await another(table, { [column]: value }));
      expect({ column: `${table}.${column}`, said }).toEqual({ column: `${table}.${column}`, said: [CHECK, CHECK, CHECK] });
    }
  });

  test('segments share neither footage nor strip; those that only touch are taken', async () => {
    const segment = (span: string, strip: string, changes: Columns = {}): Promise<string> =>
      another('coil_segment', { span, strip_span: strip, ...changes });
    expect(await segment('[199999,250000)', '[200000,250000)')).toBe(OVERLAP);
    expect(await segment('[50000,100001)', '[200000,250000)')).toBe(OVERLAP);
    expect(await segment('[150000,150001)', '[200000,250000)')).toBe(OVERLAP);
    expect(await segment('[200000,250000)', '[101799,150000)')).toBe(OVERLAP);
    expect(await segment('[200000,250000)', '[0,801)')).toBe(OVERLAP);
    expect(await segment('[200000,250000)', '[101800,150000)')).toBe(TAKEN);
    expect(await segment('[50000,100000)', '[0,800)')).toBe(TAKEN);
    expect(await segment('[199999,250000)', '[200000,250000)', { string_id: idOf('casing_string', 2) })).toBe(TAKEN);
    expect(await segment('[199999,250000)', '[200000,250000)', { state: 'void' })).toBe(TAKEN);
  });

  test('periods of one counter share no time, cut-outs no pipe', async () => {
    const period = (during: string, changes: Columns = {}): Promise<string> => another('counter_period', { during, ...changes });
    expect(await period('[2026-03-04T23:59:59.999999Z,)')).toBe(OVERLAP);
    expect(await period('[2026-02-01T00:00:00Z,2026-03-01T00:00:00.000001Z)')).toBe(OVERLAP);
    expect(await period('[2026-03-05T00:00:00Z,)')).toBe(TAKEN);
    expect(await period('[2026-03-04T23:59:59.999999Z,)', { counter: 'exit wheel' })).toBe(TAKEN);
    expect(await another('cut_out', { span: '[301199,302000)' })).toBe(OVERLAP);
    expect(await another('cut_out', { span: '[299000,300001)' })).toBe(OVERLAP);
    expect(await another('cut_out', { span: '[301200,302000)' })).toBe(TAKEN);
  });

  test('nothing lies outside the footage of its string', async () => {
    const triggers: { table: string; column: string }[] = await api.owner.query(
      `select tgrelid::regclass::text as "table", substring(proname from 'refuse_(.*)_outside_string') as "column"
         from pg_trigger join pg_proc p on p.oid = tgfoid where tgname = 'inside_string' order by 1`,
    );
    const spans = await columnsWhere("udt_name in ('int8range', 'int8multirange') and column_name <> 'strip_span'");
    expect(triggers).toEqual(spans);
    for (const { table, column } of spans) {
      const write = (interval: string): Promise<string> =>
        trial(api.dataSource, async (manager) => {
          await close(manager, table);
          await insertRow(manager, table, second(table, { [column]: column === 'extent' ? `{${interval}}` : interval }));
        });
      const said = [];
      for (const interval of ['[3999999,4000001)', '[4000000,4000001)', '[-1,5)', '[5,)', '(,5)']) said.push(await write(interval));
      expect({ table, said }).toEqual({ table, said: Array<string>(5).fill(OUTSIDE_STRING) });
      expect({ table, said: await write('[3999999,4000000)') }).toEqual({ table, said: TAKEN });
    }
  });

  test('no span, strip or period is empty or without bounds', async () => {
    const ranges = await columnsWhere("udt_name in ('int8range', 'tstzrange')");
    expect(ranges.length).toBeGreaterThan(6);
    for (const { table, column } of ranges) {
      const said = await another(table, { [column]: 'empty' });
      expect({ table, column, said }).toEqual({ table, column, said: CHECK });
    }
    for (const strip of ['[200000,)', '(,200)', '[-5,200)']) {
      expect(await another('coil_segment', { span: '[200000,250000)', strip_span: strip })).toBe(CHECK);
    }
    expect(await another('counter_period', { during: '(,2026-02-01T00:00:00Z)' })).toBe(CHECK);
  });

  test('a record that others rest on is not withdrawn before them', async () => {
    const named: { name: string }[] = await api.owner.query(
      `select distinct confrelid::regclass::text as name from pg_constraint
        where contype = 'f' and conname not like '%\\_done\\_by' and conname not like '%\\_keyed\\_by' order by 1`,
    );
    const referred = named.map(({ name }) => name).filter((name) => tables.includes(name) && !NAMED_BY_NONE.includes(name)).concat(NAMED_IN_A_LIST);
    expect(referred.length).toBeGreaterThan(6);
    for (const [, source] of connections()) {
      const said = await overTables(source, async (manager, table) => {
        const first = { id: idOf(table) };
        await close(manager, table, 1, CLOSED_AT, first);
        await insertRow(manager, table, second(table, { ...first, state: 'void' }));
      }, amendable);
      expect(said).toEqual({ ...each(amendable, TAKEN), ...each(referred, RESTED_ON) });
    }
  });

  test('a repair and an examination say all of what belongs together, and nothing that does not', async () => {
    const repair = (changes: Columns): Promise<string> => another('repair', changes);
    const ground: Columns = { method: 'grinding', weld_procedure_id: null, filler_batch: null };
    expect([await repair({}), await repair(ground)]).toEqual([TAKEN, TAKEN]);
    const wrongRepairs: Columns[] = [
      { method: 'polish' }, { method: 'grinding' }, { weld_procedure_id: null }, { ...ground, filler_batch: 'FB-1' }, { ...ground, readings: '[{}]' }, { ...ground, chosen: '[{}]' },
      { depth_removed_mm: '-0.1' }, { remaining_wall_mm: '-0.1' }, { remaining_wall_mm: null }, { depth_removed_mm: null, remaining_wall_mm: null, wall_limit_mm: null },
      { rejoin_id: idOf('rejoin') },
    ];
    for (const changes of wrongRepairs) expect({ changes, said: await repair(changes) }).toEqual({ changes, said: CHECK });

    const examination = (changes: Columns): Promise<string> => another('examination', changes);
    const standIn: Columns = { stands_in_for: '{RT}', stand_in_reason: 'No film inside', stand_in_by: idOf('person', 2) };
    const other = firstVersion('person', { id: idOf('person', 2), sign_in_name: 'level-3' });
    const standing = (changes: Columns): Promise<string> => trial(api.dataSource, async (manager) => {
      await insertRow(manager, 'person', other);
      await insertRow(manager, 'examination', firstVersion('examination', { id: idOf('examination', 2), ...standIn, ...changes }));
    });
    expect([await examination({}), await examination({ reflector: null, reflector_size_mm: null }), await standing({})]).toEqual([TAKEN, TAKEN, TAKEN]);
    const wrongExaminations: Columns[] = [
      { method: 'XX' }, { outcome: 'open' }, { reflector: 'scratch' }, { reflector: null }, { reflector_size_mm: null }, { reflector_size_mm: '0' }, { splice_id: idOf('splice') },
    ];
    for (const changes of wrongExaminations) expect({ changes, said: await examination(changes) }).toEqual({ changes, said: CHECK });
    const wrongStandIns: Columns[] = [{ stand_in_reason: null }, { stand_in_by: null }, { stands_in_for: '{}' }, { stands_in_for: '{RT,UT}' }, { stands_in_for: '{XX}' }, { stand_in_by: idOf('person') }];
    for (const changes of wrongStandIns) expect({ changes, said: await standing(changes) }).toEqual({ changes, said: CHECK });
  });

  test('a string keeps the ground its records stand on', async () => {
    const shortened = (limit: string): Promise<string> =>
      trial(api.dataSource, async (manager) => {
        await close(manager, 'casing_string');
        await insertRow(manager, 'casing_string', second('casing_string', { footage_limit_mm: limit }));
      });
    expect(await shortened('301199')).toBe(OUTSIDE_STRING);
    expect(await shortened('301200')).toBe(TAKEN);
  });
});
