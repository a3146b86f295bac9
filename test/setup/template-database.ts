import { createHash, randomUUID } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { createDataSource, migrate } from '#libs/persistence';
import { MIGRATIONS } from '../../migrations/index.js';

/** Any number, the same in all test workers: the first one makes the template, the others wait. */
const TEMPLATE_LOCK = 5_530_118_274_406;

/** The URL of the server that the test run works with. */
export function testServerUrl(): string {
  const url = process.env['TEST_DATABASE_URL'];
  if (url === undefined) throw new Error('TEST_DATABASE_URL is set by the global set-up of the test run');
  return url;
}

/** The URL of another database of the same server. */
export function databaseUrl(name: string): string {
  const url = new URL(testServerUrl());
  url.pathname = `/${name}`;
  return url.href;
}

/** Makes a database with all migrations applied and nothing in it. Gives its name. */
export async function cloneTemplate(): Promise<string> {
  const template = templateName();
  const name = `test_${randomUUID().replaceAll('-', '')}`;
  await onServer(async (query) => {
    await query('select pg_advisory_lock($1)', [TEMPLATE_LOCK]);
    const made = await query('select 1 from pg_database where datname = $1', [template]);
    if (made.length === 0) await makeTemplate(template, query);
    await query(`create database ${name} template ${template}`);
  });
  return name;
}

/** Deletes a database with whatever is still connected to it. */
export async function dropDatabase(name: string): Promise<void> {
  await onServer((query) => query(`drop database if exists ${name} with (force)`));
}

type Query = (sql: string, parameters?: unknown[]) => Promise<unknown[]>;

/** One connection for all of `work`: what it locks is free again when it ends. */
async function onServer(work: (query: Query) => Promise<unknown>): Promise<void> {
  const server = await createDataSource({ url: testServerUrl(), entities: [], poolSize: 1 }).initialize();
  const runner = server.createQueryRunner();
  try {
    await work(async (sql, parameters) => (await runner.query(sql, parameters)) as unknown[]);
  } finally {
    await runner.release();
    await server.destroy();
  }
}

/** Under another name first: a template whose making was cut short must not be taken for a whole one. */
async function makeTemplate(template: string, query: Query): Promise<void> {
  const draft = `${template}_draft`;
  await query(`drop database if exists ${draft} with (force)`);
  await query(`create database ${draft}`);
  const owner = createDataSource({ url: databaseUrl(draft), entities: [], migrations: MIGRATIONS });
  await owner.initialize();
  await migrate(owner);
  await owner.destroy();
  await query(`alter database ${draft} rename to ${template}`);
}

/** Named by what the migrations say, so that a server kept between runs never serves an old template. */
function templateName(): string {
  const folder = fileURLToPath(new URL('../../migrations', import.meta.url));
  const hash = createHash('sha256');
  for (const file of readdirSync(folder).sort()) {
    if (file.endsWith('.ts')) hash.update(file).update(readFileSync(`${folder}/${file}`));
  }
  return `template_${hash.digest('hex').slice(0, 16)}`;
}
