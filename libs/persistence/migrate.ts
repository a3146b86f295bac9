import type { DataSource } from 'typeorm';

/** Any number, the same in every process of ours: one migrates, the others wait. */
const MIGRATION_LOCK = 7_206_315_902_417;

/**
 * Applies the migrations that are missing, each in its own transaction, under an advisory lock so that processes
 * starting together do it once. The data source must be connected as the owner. Gives the names it applied.
 */
export async function migrate(owner: DataSource): Promise<string[]> {
  const guard = owner.createQueryRunner();
  await guard.connect();
  try {
    await guard.query('select pg_advisory_lock($1)', [MIGRATION_LOCK]);
    const applied = await owner.runMigrations();
    return applied.map((migration) => migration.name);
  } finally {
    await guard.query('select pg_advisory_unlock($1)', [MIGRATION_LOCK]);
    await guard.release();
  }
}
