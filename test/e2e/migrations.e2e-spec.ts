import { execFile } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { afterEach, describe, expect, jest, test } from '@jest/globals';
import type { DataSource, QueryRunner } from 'typeorm';
import { createDataSource, migrate, type EntityClass } from '#libs/persistence';
import { MIGRATIONS } from '../../migrations/index.js';
import { asActor, DESCRIBED, firstVersion, idOf, KNOWN_FROM, recordTables, standFile, standRow } from '../setup/record-rows.js';
import { databaseUrl, dropDatabase, testServerUrl } from '../setup/template-database.js';

jest.setTimeout(60_000);

const NAMES = MIGRATIONS.map(({ name }) => name);
const root = fileURLToPath(new URL('../..', import.meta.url));
/** A string, a specification, a weld procedure, a sampling plan, an indication rule and a handover by what refers to them; a decision is followed by another one; releases and limits are withdrawn at most. */
const KEPT_AS_THEY_ARE: readonly string[] = ['casing_string', 'strip_specification', 'weld_procedure', 'sampling_plan', 'indication_rule', 'handover', 'coil_decision', 'release', 'chart_limits'];
const open: DataSource[] = [];
const made: string[] = [];

afterEach(async () => {
  for (const source of open.splice(0)) await source.destroy();
  for (const name of made.splice(0)) await dropDatabase(name);
});

async function emptyDatabase(): Promise<string> {
  const name = `test_${randomUUID().replaceAll('-', '')}`;
  const server = await createDataSource({ url: testServerUrl(), entities: [], poolSize: 1 }).initialize();
  await server.query(`create database ${name}`);
  await server.destroy();
  made.push(name);
  return databaseUrl(name);
}

async function owner(url: string, migrations: readonly EntityClass[] = MIGRATIONS): Promise<DataSource> {
  const source = await createDataSource({ url, entities: [], migrations, poolSize: 2 }).initialize();
  open.push(source);
  return source;
}

/** Every table, column, constraint, index, trigger, function and right, as text. */
async function schemaOf(source: DataSource): Promise<unknown[]> {
  const rows: { said: string }[] = await source.query(`
    select format('%s.%s %s %s', table_name, column_name, data_type, is_nullable) as said
      from information_schema.columns where table_schema = 'public'
    union all select conrelid::regclass || ' ' || conname || ' ' || pg_get_constraintdef(oid) from pg_constraint
     where connamespace = 'public'::regnamespace
    union all select indexdef from pg_indexes where schemaname = 'public'
    union all select pg_get_triggerdef(oid) from pg_trigger where not tgisinternal
    union all select proname || md5(prosrc) from pg_proc where pronamespace = 'public'::regnamespace and prolang <> 13
    union all select format('%s %s %s', grantee, table_name, privilege_type) from information_schema.role_table_grants
     where table_schema = 'public' order by 1`);
  return rows.map(({ said }) => said);
}

/** Stands a row in each table that is there by now, with the columns it has by now. Gives the tables. */
async function populate(source: DataSource): Promise<string[]> {
  const there = await recordTables(source);
  const tables = DESCRIBED.filter((table) => there.includes(table));
  await source.transaction(async (manager) => {
    await asActor(manager);
    const [{ files }]: [{ files: string | null }] = await manager.query("select to_regclass('stored_file') as files");
    if (files !== null) await standFile(manager);
    for (const table of tables) {
      const columns: { name: string }[] = await manager.query(
        'select column_name as name from information_schema.columns where table_name = $1', [table],
      );
      const row = Object.entries(firstVersion(table)).filter(([name]) => columns.some((column) => column.name === name));
      await standRow(manager, table, Object.fromEntries(row));
    }
  });
  await source.query("insert into request_key (actor_id, key, fingerprint, status, body) values ($1, 'k', 'f', 200, '{}')", [idOf('person')]);
  await source.query("insert into number_series values ('nonconformance', 1)");
  return tables;
}

async function rowsOf(source: DataSource, tables: readonly string[]): Promise<Record<string, Record<string, unknown>>> {
  const rows: Record<string, Record<string, unknown>> = {};
  for (const table of tables) {
    const [found]: { row: Record<string, unknown> }[] = await source.query(`select to_jsonb(t) as row from ${table} t`);
    rows[table] = found?.row ?? {};
  }
  return rows;
}

describe('migrating', () => {
  test('an empty database gets all migrations, in order; a second time there is nothing to do', async () => {
    const source = await owner(await emptyDatabase());
    expect(await migrate(source)).toEqual(NAMES);
    const schema = await schemaOf(source);
    expect(await migrate(source)).toEqual([]);
    expect(await schemaOf(source)).toEqual(schema);
    expect(await source.query('select name from migrations order by id')).toEqual(NAMES.map((name) => ({ name })));
  });

  test('three processes at once: each migration is applied by one of them, once', async () => {
    const url = await emptyDatabase();
    const program = ['--no-warnings', '--import', './.tools/swc-loader.mjs', './test/setup/migrate.program.ts', url];
    const runs = await Promise.all([1, 2, 3].map(() => promisify(execFile)(process.execPath, program, { cwd: root })));
    const applied = runs.map(({ stdout }) => JSON.parse(stdout) as string[]);
    expect(applied.flat().sort()).toEqual([...NAMES].sort());
    const source = await owner(url);
    expect(await source.query('select name from migrations order by id')).toEqual(NAMES.map((name) => ({ name })));
  });

  test('eight connections at once on one process, the same', async () => {
    const url = await emptyDatabase();
    const sources = await Promise.all(Array.from({ length: 8 }, () => owner(url)));
    const applied = await Promise.all(sources.map((source) => migrate(source)));
    expect(applied.filter((names) => names.length > 0)).toEqual([NAMES]);
  });

  test('a migration that fails leaves nothing of itself and no lock', async () => {
    class Fails2764061200000 {
      async up(runner: QueryRunner): Promise<void> {
        await runner.query('create table half_done (id int4)');
        await runner.query('select 1 / 0');
      }

      down(): Promise<void> {
        return Promise.reject(new Error('migrations only go forward'));
      }
    }
    const url = await emptyDatabase();
    await expect(migrate(await owner(url, [...MIGRATIONS, Fails2764061200000]))).rejects.toThrow(/division by zero/);
    const source = await owner(url);
    expect(await source.query("select to_regclass('half_done') as there")).toEqual([{ there: null }]);
    expect(await source.query("select 1 from pg_locks join pg_database d on d.oid = database  where locktype = 'advisory' and datname = current_database()")).toEqual([]);
    expect(await migrate(source)).toEqual([]);
  });

  test('none goes back', async () => {
    for (const Migration of MIGRATIONS) {
      await expect((new Migration() as { down(): Promise<void> }).down()).rejects.toThrow('migrations only go forward');
    }
  });
});

describe('on a database with data in it', () => {
  const steps = NAMES.slice(1).map((name, index) => ({ name, before: index + 1 }));

  test.each(steps)('$name applies and leaves every row as it was', async ({ name, before }) => {
    const url = await emptyDatabase();
    const earlier = await owner(url, MIGRATIONS.slice(0, before));
    expect(await migrate(earlier)).toEqual(NAMES.slice(0, before));
    const tables = await populate(earlier);
    const rows = await rowsOf(earlier, tables);
    expect(await migrate(await owner(url, MIGRATIONS.slice(0, before + 1)))).toEqual([name]);
    const now = await rowsOf(earlier, tables);
    // A new column may have come; what was there is the same.
    for (const table of tables) expect(now[table]).toMatchObject(rows[table] ?? {});
    await amendAll(earlier, tables);
  });

  /** The guards hold the old rows as they hold new ones. */
  async function amendAll(source: DataSource, tables: readonly string[]): Promise<void> {
    await source.transaction(async (manager) => {
      await asActor(manager);
      for (const table of tables.filter((name) => !KEPT_AS_THEY_ARE.includes(name))) {
        await manager.query(`update ${table} set known_until = known_from + interval '1 hour'`);
        await manager.query(`create temp table next on commit drop as select * from ${table}`);
        await manager.query("update next set version = 2, known_from = known_until, known_until = null, reason = 'Read again'");
        const columns: { names: string }[] = await manager.query(
          `select string_agg(column_name, ', ') as names from information_schema.columns where table_name = $1 and is_generated = 'NEVER' and table_schema = 'public'`,
          [table],
        );
        await manager.query(`insert into ${table} (${columns[0]?.names}) select ${columns[0]?.names} from next`);
        await manager.query('drop table next');
      }
    });
    for (const table of tables) await expect(source.query(`delete from ${table}`)).rejects.toThrow(/keeps every version/);
  }

  test('the schema is the same whether migrated at once or step by step with data', async () => {
    const whole = await owner(await emptyDatabase());
    await migrate(whole);
    const url = await emptyDatabase();
    for (let count = 1; count <= MIGRATIONS.length; count += 1) {
      const source = await owner(url, MIGRATIONS.slice(0, count));
      await migrate(source);
      if (count === 2) await populate(source);
    }
    expect(await schemaOf(await owner(url))).toEqual(await schemaOf(whole));
    expect(await (await owner(url)).query('select known_from from person')).toEqual([
      { known_from: KNOWN_FROM.replace('T', ' ').replace('Z', '+00') },
    ]);
  });
});
