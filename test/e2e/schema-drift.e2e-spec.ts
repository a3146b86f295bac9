import { afterAll, beforeAll, beforeEach, describe, expect, test } from '@jest/globals';
import type { DataSource, EntityMetadata } from 'typeorm';
import { createDataSource } from '#libs/persistence';
import { ENTITIES } from '../../apps/api/src/app.module.js';
import { recordTables } from '../setup/record-rows.js';
import { cloneTemplate, databaseUrl, dropDatabase } from '../setup/template-database.js';

let name: string;
let owner: DataSource;
let records: EntityMetadata[];

beforeAll(async () => {
  name = await cloneTemplate();
  owner = await createDataSource({ url: databaseUrl(name), entities: ENTITIES, poolSize: 2 }).initialize();
  const tables = await recordTables(owner);
  records = owner.entityMetadatas.filter(({ tableName }) => tables.includes(tableName));
  // TypeORM looks in a table of its own for what a generated column is generated from; no migration needs it.
  await owner.query(
    `create table typeorm_metadata
       (type varchar not null, database varchar, schema varchar, "table" varchar, name varchar, value text)`,
  );
  await owner.query(
    `insert into typeorm_metadata select 'GENERATED_COLUMN', current_database(), 'public', table_name, column_name,
            generation_expression from information_schema.columns where is_generated = 'ALWAYS'`,
  );
});
afterAll(async () => {
  await owner.destroy();
  await dropDatabase(name);
});

/** The statements that TypeORM would change the database by to make it what the entities say. */
async function drift(): Promise<string[]> {
  const { upQueries } = await owner.driver.createSchemaBuilder().log();
  return upQueries.map(({ query }) => query);
}

/** Constraints of the record tables in the database, as `table name definition`. */
async function constraints(kind: 'c' | 'f' | 'x', from = 'public'): Promise<string[]> {
  const rows: { said: string }[] = await owner.query(
    `select relname || ' ' || conname || ' ' || pg_get_constraintdef(o.oid) as said
       from pg_constraint o join pg_class c on c.oid = o.conrelid
      where contype = $1 and c.relnamespace = $2::regnamespace and relname = any ($3) order by 1`,
    [kind, from, records.map(({ tableName }) => tableName)],
  );
  return rows.map(({ said }) => said).sort();
}

test('every table of records has its entity', async () => {
  expect(records.map(({ tableName }) => tableName).sort()).toEqual(await recordTables(owner));
});

test('entities and database agree: there is nothing to change', async () => {
  expect(await drift()).toEqual([]);
});

describe('what TypeORM compares by name only', () => {
  beforeEach(() => owner.query('drop schema if exists by_entities cascade; create schema by_entities'));

  test('checks and exclusions say the same in the entities as in the migrations', async () => {
    for (const { tableName, checks, exclusions } of records) {
      await owner.query(`create table by_entities.${tableName} (like public.${tableName})`);
      for (const { name: check, expression } of checks) {
        await owner.query(`alter table by_entities.${tableName} add constraint ${check} check (${expression})`);
      }
      for (const { name: exclusion, expression } of exclusions) {
        await owner.query(`alter table by_entities.${tableName} add constraint ${exclusion} exclude ${expression}`);
      }
    }
    expect(await constraints('c', 'by_entities')).toEqual(await constraints('c'));
    expect(await constraints('x', 'by_entities')).toEqual(await constraints('x'));
  });

  test('foreign keys join the same columns', async () => {
    const said = records.flatMap(({ tableName, foreignKeys }) =>
      foreignKeys.map(({ name: key, columnNames, referencedTablePath, referencedColumnNames }) =>
        `${tableName} ${key} FOREIGN KEY (${columnNames.join(', ')}) REFERENCES ${referencedTablePath}(${referencedColumnNames.join(', ')})`),
    );
    expect(said.sort()).toEqual(await constraints('f'));
  });

  test('every index is named by its entity, and no other', async () => {
    const rows: { said: string }[] = await owner.query(
      `select tablename || ' ' || indexname as said from pg_indexes where schemaname = 'public' and tablename = any ($1)
          and indexname not in (select conname from pg_constraint)`,
      [records.map(({ tableName }) => tableName)],
    );
    const said = records.flatMap(({ tableName, indices }) => indices.map(({ name: index }) => `${tableName} ${index}`));
    expect(said.sort()).toEqual(rows.map((row) => row.said).sort());
  });
});

test('the comparison sees a column, a type, a check, an index and a foreign key that differ', async () => {
  const changes = [
    'alter table well add column extra text', 'alter table coil drop constraint ck_coil_length', 'drop index uq_heat_open',
    'alter table splice drop constraint fk_splice_leaving_coil_id', 'alter table rejoin add constraint ck_more check (version < 9)',
    'alter table certificate alter column issued_on type text',
  ];
  for (const change of changes) await owner.query(change);
  const seen = (await drift()).join('\n');
  for (const word of ['"extra"', 'ck_coil_length', 'uq_heat_open', 'fk_splice_leaving_coil_id', 'ck_more', '"issued_on"']) {
    expect(seen).toContain(word);
  }
});
