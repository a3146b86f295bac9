import type pg from 'pg';
import { StartFailure } from '../start/start-failure.js';

/** The columns of `signal_block` in the order in which a file of format version 1 has them. */
export const ROW_COLUMNS =
  'string_id, channel_id, level, block_no, run_id, upload_id, part_no, known_from, items, first_position, last_position, from_us, to_us, unread, body';

/** A casing string by its samples, here or in a file. */
export interface StringSamples {
  readonly stringId: string;
  readonly name: string;
  /** Rows of `signal_block` in the database. */
  readonly rows: number;
  readonly bytes: number;
  /** Where they are, when they are not in the database. */
  readonly detached: { readonly fileName: string; readonly sha256: string; readonly since: string } | null;
}

/** One transaction on a connection that nobody else uses. */
export async function inTransaction<T>(client: pg.Client, mode: string, work: () => Promise<T>): Promise<T> {
  await client.query(`begin ${mode}`);
  try {
    const result = await work();
    await client.query('commit');
    return result;
  } catch (error) {
    // Where the connection is lost the server rolls back by itself.
    await client.query('rollback').catch(() => undefined);
    throw error;
  }
}

/** Waits until nothing is written on the string, and lets nothing be: the lock that every entry on it shares. */
export async function lockString(client: pg.Client, stringId: string): Promise<void> {
  await client.query('select pg_advisory_xact_lock(hashtextextended($1::text, 0))', [stringId]);
}

export async function rowCount(client: pg.Client, stringId: string): Promise<number> {
  const { rows } = await client.query<{ rows: string }>('select count(*) as rows from signal_block where string_id = $1', [stringId]);
  return Number(rows[0]?.rows);
}

/** The id as it is written in SQL. Throws StartFailure where it is no id of a string. */
export async function demandString(client: pg.Client, id: string): Promise<string> {
  const isId = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i.test(id);
  const { rows } = isId ? await client.query<{ id: string }>('select id from casing_string where id = $1 and version = 1', [id]) : { rows: [] };
  if (rows[0] === undefined) throw new StartFailure(`"${id}" is the id of no string here: "npm run signals -- list" shows those that have samples.`);
  return rows[0].id;
}

/** All strings that have samples, here or in a file. */
export async function listSamples(client: pg.Client): Promise<StringSamples[]> {
  const { rows } = await client.query<{ id: string; name: string; rows: string; bytes: string; file_name: string | null; sha256: string | null; since: Date | null }>(
    `select s.id, s.name, coalesce(b.rows, 0) as rows, coalesce(b.bytes, 0) as bytes, d.file_name, d.sha256, d.known_from as since
       from casing_string s
       left join (select string_id, count(*) as rows, sum(octet_length(body)) as bytes from signal_block group by string_id) b on b.string_id = s.id
       left join signal_detachment d on d.string_id = s.id and d.attached_again is null
      where s.known_until is null and (b.rows > 0 or d.string_id is not null) order by s.name, s.id`,
  );
  return rows.map(({ id, name, rows: count, bytes, file_name: fileName, sha256, since }) => ({
    stringId: id, name, rows: Number(count), bytes: Number(bytes),
    detached: fileName === null || sha256 === null || since === null ? null : { fileName, sha256, since: since.toISOString() },
  }));
}
