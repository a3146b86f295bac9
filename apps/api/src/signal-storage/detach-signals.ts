import { rm } from 'node:fs/promises';
import { basename } from 'node:path';
import type pg from 'pg';
import { to as copyTo } from 'pg-copy-streams';
import { StartFailure } from '../start/start-failure.js';
import { readSignalFile, writeSignalFile, type SignalFile } from './signal-file.js';
import { inTransaction, lockString, ROW_COLUMNS, rowCount } from './signal-rows.js';

/**
 * Takes the samples of a string out of the database into a new file: first the file, read back and found whole, then in one
 * transaction the rows are deleted and it is noted where they are. Ended at any point, they are in the database or in the file.
 * `client` is connected as the owner of the database. Throws StartFailure.
 */
export async function detachSignals(client: pg.Client, stringId: string, path: string): Promise<SignalFile> {
  const file = await copyOut(client, stringId, path);
  await letGo(client, file);
  return file;
}

/** Writes all rows of a string to a new file and reads it back; the database stays as it is. */
export async function copyOut(client: pg.Client, stringId: string, path: string): Promise<SignalFile> {
  const sha256 = await inTransaction(client, 'isolation level repeatable read, read only', async () => {
    const rows = await rowCount(client, stringId);
    if (rows === 0) throw new StartFailure(`The database holds no samples of the string ${stringId}: "npm run signals -- list" shows which there are, and where.`);
    const select = `select ${ROW_COLUMNS} from signal_block where string_id = '${stringId}' order by channel_id, level, block_no`;
    const copy = copyTo(`copy (${select}) to stdout with (format binary)`);
    const written = await writeSignalFile(path, { stringId, rows }, () => client.query(copy) as AsyncIterable<Uint8Array>).catch((error: unknown) => broken(client, error));
    if (copy.rowCount !== rows) throw new Error(`${copy.rowCount} rows were written of ${rows}`);
    return written;
  }).catch(async (error: unknown) => {
    // One that was there before is not ours; a half of ours helps nobody.
    if (!(error instanceof StartFailure)) await rm(path, { force: true });
    throw error;
  });
  const file = await readSignalFile(path);
  if (file.sha256 !== sha256) throw new StartFailure(`${path} reads otherwise than it was written: the disk cannot be trusted. The samples are still in the database.`);
  return file;
}

/** Rows may still be on their way, which nothing on the connection could overtake: it is ended with them. */
async function broken(client: pg.Client, error: unknown): Promise<never> {
  if (!(error instanceof StartFailure)) await client.end().catch(() => undefined);
  throw error;
}

/** Deletes the rows that are in the file and notes where they are. Refuses where they are not all, or others, that the database holds. */
export async function letGo(client: pg.Client, { path, head: { stringId, rows }, sha256 }: SignalFile): Promise<void> {
  await inTransaction(client, '', async () => {
    await lockString(client, stringId);
    // On a cluster these have to reach the servers that hold the rows: said by SET, since set_config stays where it is called.
    await client.query("set local citus.propagate_set_commands to 'local'");
    await client.query(`set local app.detaching to '${stringId}'`);
    const { rowCount: deleted } = await client.query('delete from signal_block where string_id = $1', [stringId]);
    // Rows never change and leave all together: as many as in the file are the same as in the file.
    if (deleted !== rows) throw new StartFailure(`The file has ${rows} rows and the database ${deleted ?? 0}: samples came in meanwhile. They are all still there; remove ${path} and begin again.`);
    await client.query(
      'insert into signal_detachment (string_id, known_from, file_name, sha256, block_rows) values ($1, clock_timestamp(), $2, $3, $4)', [stringId, basename(path), sha256, rows],
    );
  });
}
