// Jest's global tear-down: stops the PostgreSQL of start-database.mjs and deletes its data.
import { rm } from 'node:fs/promises';

export default async function stopDatabase() {
  const database = globalThis.everymetreTestDatabase;
  if (database === undefined) return;
  delete globalThis.everymetreTestDatabase;
  delete process.env.TEST_DATABASE_URL;
  await database.server.stop();
  for (const path of database.folders) await rm(path, { recursive: true, force: true, maxRetries: 3 });
}
