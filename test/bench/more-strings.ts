import type pg from 'pg';

/** Columns that name a record of the copied string. */
const MAPPED = new Set(['id', 'string_id', 'coil_id', 'leaving_coil_id', 'entering_coil_id']);
/** Names that must differ between the copies. */
const NAMED: Readonly<Record<string, string>> = { casing_string: 'name', coil: 'number' };
/** Bulky tables: one row in ten is enough to make the indexes large. */
const THINNED = new Set(['counter_reading', 'inspection']);
const TABLES = [
  'casing_string', 'coil', 'deviation_permit', 'line_setup', 'counter_period', 'counter_reading', 'hang_off', 'coil_segment', 'splice', 'inspection',
];

/**
 * Makes `count` more strings out of the one that was entered through the API, by copying its rows under other ids as
 * the owner, past the triggers: only a database full of strings is wanted here, not the entering of them.
 */
export async function copyString(owner: pg.Client, count: number): Promise<void> {
  await owner.query("set session_replication_role = 'replica'");
  for (const table of TABLES) {
    const { rows } = await owner.query<{ name: string }>(
      `select attname as name from pg_attribute
        where attrelid = $1::regclass and attnum > 0 and not attisdropped and attgenerated = ''`,
      [table],
    );
    const columns = rows.map(({ name }) => name);
    const values = columns.map((column) => {
      if (MAPPED.has(column)) return `md5(n::text || ${column}::text)::uuid`;
      return NAMED[table] === column ? `${column} || ' copy ' || n` : column;
    });
    const thinned = THINNED.has(table) ? 'where hashtext(id::text) % 10 = 0' : '';
    await owner.query(
      `insert into ${table} (${columns.join(', ')})
       select ${values.join(', ')} from ${table}, generate_series(1, ${count}) n ${thinned}`,
    );
  }
  await owner.query('reset session_replication_role');
  await owner.query('analyze');
}
