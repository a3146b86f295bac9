import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type pg from 'pg';
import { from as copyFrom } from 'pg-copy-streams';
import { StartFailure } from '../start/start-failure.js';
import { readSignalFile, rowsOf, type SignalFile } from './signal-file.js';
import { inTransaction, lockString, ROW_COLUMNS, rowCount } from './signal-rows.js';

/**
 * Brings the samples of a string back from the file that they were detached to: all of them or none. `client` is connected as
 * the owner of the database. Throws StartFailure where the file is damaged or another one than the database knows of, and where
 * the samples are there.
 */
export async function attachSignals(client: pg.Client, path: string): Promise<SignalFile> {
  const file = await readSignalFile(path);
  const { head: { stringId, rows }, sha256 } = file;
  await inTransaction(client, '', async () => {
    await lockString(client, stringId);
    await demandDetached(client, file);
    await pipeline(Readable.from(rowsOf(file)), client.query(copyFrom(`copy signal_block (${ROW_COLUMNS}) from stdin with (format binary)`)));
    const here = await rowCount(client, stringId);
    if (here !== rows) throw new StartFailure(`${path} has ${here} rows of its string, and says ${rows}.`);
    await client.query('update signal_detachment set attached_again = clock_timestamp() where string_id = $1 and sha256 = $2 and attached_again is null', [stringId, sha256]);
  });
  return file;
}

async function demandDetached(client: pg.Client, { path, head: { stringId }, sha256 }: SignalFile): Promise<void> {
  if (await rowCount(client, stringId) > 0) throw new StartFailure(`The samples of the string ${stringId} are in the database: nothing is to be attached.`);
  const { rows } = await client.query<{ file_name: string; sha256: string }>(
    'select file_name, sha256 from signal_detachment where string_id = $1 and attached_again is null', [stringId],
  );
  const [row] = rows;
  if (row === undefined) throw new StartFailure(`No samples of the string ${stringId} were detached from this database.`);
  if (row.sha256 === sha256) return;
  throw new StartFailure(`${path} is not the file that was detached: that one was ${row.file_name} with SHA-256 ${row.sha256}; this one has ${sha256}.`);
}
