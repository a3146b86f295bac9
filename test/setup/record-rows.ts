import type { DataSource, EntityManager } from 'typeorm';
import { sqlRefusal } from '#libs/persistence';

/** Columns of a row by name, as PostgreSQL reads them from text; undefined leaves a column out. */
export type Columns = Readonly<Record<string, string | null | undefined>>;

/** When the rows here became known. */
export const KNOWN_FROM = '2026-03-02T09:00:00.000001Z';

const OBSERVED_AT = '2026-03-02T08:15:00Z';
const GIVEN = '{"from": {"footageMm": 212000}, "to": null}';

/** The id of the row that stands for a table; fixed, since every test has a database of its own. */
export function idOf(table: string, nth = 1): string {
  const place = Object.keys(CONTENT).indexOf(table);
  if (place < 0) throw new Error(`${table} has no row here: describe one in CONTENT`);
  return `0197a2c4-5b00-7d31-9c11-${String(place + 1).padStart(8, '0')}${String(nth).padStart(4, '0')}`;
}

const placed = (span: string): Columns => ({
  string_id: idOf('casing_string'), given: GIVEN, span, from_u_mm: '12.5', to_u_mm: '12.5', predicted: 'false', rests_on: '[]',
});

/** The content of one record for each table, in the order their references need; every column that may has a value. */
const CONTENT: Readonly<Record<string, () => Columns>> = {
  person: () => ({ name: 'Ilka Brandt', sign_in_name: 'ilka-of-the-rows', roles: '{materials-engineer}', active: 'true' }),
  well: () => ({ name: 'Lindmoor Geothermal 2', datum: 'Guide frame', note: 'Deviated' }),
  casing_string: () => ({
    well_id: idOf('well'), name: 'Lindmoor 2 main string', footage_limit_mm: '4000000', outside_diameter_mm: '127.0',
    wall_thickness_mm: '5.00', master_counter: 'main', length_ratio: '0.985', length_ratio_u: '0.004',
    diameter_ratio: '1.05', diameter_ratio_u: '0.01', note: 'One pipe',
  }),
  device: () => ({
    name: 'Line computer', string_id: idOf('casing_string'), counters: '{main}', expires_at: '2026-06-30T22:00:00Z', active: 'true',
  }),
  heat: () => ({ number: 'H40711', steelmaker: 'Steelworks', grade: 'S420MC', cast_on: '2025-11-03' }),
  certificate: () => ({ number: 'C-118', issuer: 'Steelworks', document_type: '3.1', issued_on: '2025-11-20', note: 'Two pages' }),
  coil: () => ({
    number: 'LM-01', heat_id: idOf('heat'), certificate_id: idOf('certificate'), width_mm: '400.0', thickness_mm: '5.00',
    mass_kg: '7850', length_mm: '500000', crop_mm: '800', rest_mm: '0', note: 'Dry',
  }),
  line_setup: () => ({ string_id: idOf('casing_string'), stations: '[]', viewing: 'down-the-hole', note: 'First' }),
  counter_period: () => ({
    string_id: idOf('casing_string'), counter: 'main', during: '[2026-03-01T00:00:00Z,2026-03-05T00:00:00Z)',
    start_reading: '0', previous_end_reading: null, start_given_mm: '0', start_footage_mm: '0', scale_mm_per_count: '1.0000',
    scale_relative_u: '0.0005', wheel: 'W-2', note: 'Taped',
  }),
  counter_reading: () => ({ string_id: idOf('casing_string'), counter: 'main', reading: '118500', note: 'Stopped' }),
  hang_off: () => ({ ...placed('[4000,4001)'), md_mm: '1200', md_u_mm: '2', note: 'Wedges set' }),
  shoe_tie: () => ({
    string_id: idOf('casing_string'), given: GIVEN, weld_footage_mm: '212000', weld_u_mm: '12.5', rests_on: '[]',
    shoe_md_mm: '150000', shoe_u_mm: '80', method: 'Wireline tag', note: 'Twice',
  }),
  survey: () => ({ well_id: idOf('well'), stations: '[]', tie_in: '{}', tool: 'Gyro', note: 'Run 1' }),
  coil_segment: () => ({
    ...placed('[100000,200000)'), coil_id: idOf('coil'), strip_span: '[800,101800)', runs: 'head-first', note: 'First coil',
  }),
  splice: () => ({
    ...placed('[200000,200600)'), number: 'S-3', leaving_coil_id: idOf('coil'), entering_coil_id: idOf('coil'), angle_deg: '45',
    hand: 'left', confirmed: 'true', verdict: 'in-doubt', doubt: 'Film unclear', pipe_length_mm: '600', note: 'Retaken',
  }),
  cut_out: () => ({ ...placed('[300000,301200)'), cause: 'Tried cut', piece: 'P-1', note: 'Kept' }),
  rejoin: () => ({
    string_id: idOf('casing_string'), cut_out_id: idOf('cut_out'), procedure: 'WP-7', verdict: 'accepted', examination: 'UT', note: 'Good',
  }),
  inspection: () => ({
    ...placed('[212000,212600)'), kind: 'dimensional', characteristic: 'wall thickness', value: '4.97', unit: 'mm',
    limit_min: '4.75', limit_max: '5.40', requirement: 'Plan 4.3', surface: 'formed-outside', clock_hours: '3.5',
    viewing: 'down-the-hole', verdict: 'accepted', note: 'Dry',
  }),
  nonconformance: () => ({
    number: '1', title: 'Thin wall', severity: 'major', origin: 'line', string_id: idOf('casing_string'), given: '[]',
    extent: '{[212000,212600)}', rests_on: '[]', coil_extents: '[]', coil_ids: '{}', extent_basis: 'measured', requirement: '{}',
    found: '{}', containment: '{}', stage: 'open', disposition: '{}', note: 'Seen',
  }),
};

/** The tables described here, in the order in which their rows can be inserted. */
export const DESCRIBED: readonly string[] = Object.keys(CONTENT);

/** A whole first version for a table, with `changes` in it. */
export function firstVersion(table: string, changes: Columns = {}): Columns {
  return {
    id: idOf(table), version: '1', known_from: KNOWN_FROM, known_until: null, entered_at: KNOWN_FROM, observed_at: OBSERVED_AT, state: 'active',
    done_by: idOf('person'), keyed_by: idOf('person'), device_id: idOf('device'), source: 'keyed', reason: 'As read', marks: '[]',
    request_id: 'rows', digest: 'd', ...CONTENT[table]?.(), ...changes,
  };
}

/** Inserts one row, its columns as text. */
export async function insertRow(manager: EntityManager, table: string, columns: Columns): Promise<void> {
  const given = Object.entries(columns).filter(([, value]) => value !== undefined);
  const places = given.map((_, index) => `$${index + 1}`);
  await manager.query(
    `insert into ${table} (${given.map(([name]) => name).join(', ')}) values (${places.join(', ')})`,
    given.map(([, value]) => value),
  );
}

/** Names the actor of the rows here, and a request, for the rest of the transaction. */
export async function asActor(manager: EntityManager): Promise<void> {
  await manager.query("select set_config('app.actor', $1, true), set_config('app.request', 'rows', true)", [idOf('person')]);
}

/** Inserts and commits the first version of each of `tables`. */
export async function standRows(dataSource: DataSource, tables: readonly string[]): Promise<void> {
  await dataSource.transaction(async (manager) => {
    await asActor(manager);
    for (const table of tables) await insertRow(manager, table, firstVersion(table));
  });
}

/** Thrown to undo what a trial did. */
class Undone extends Error {}

/** Runs `work` as the actor of the rows and undoes it. Gives the SQLSTATE it was refused with, or `taken`. */
export async function trial(dataSource: DataSource, work: (manager: EntityManager) => Promise<unknown>): Promise<string> {
  try {
    await dataSource.transaction(async (manager) => {
      await asActor(manager);
      await work(manager);
      // Foreign keys and other deferred checks speak now or never.
      await manager.query('set constraints all immediate');
      throw new Undone();
    });
  } catch (error) {
    if (error instanceof Undone) return 'taken';
    const refusal = sqlRefusal(error);
    if (refusal !== null) return refusal.sqlState;
    throw error;
  }
  return 'taken';
}

/** The tables of record versions that the database has: those whose rows have a `known_until`. */
export async function recordTables(dataSource: DataSource): Promise<string[]> {
  const rows: { table_name: string }[] = await dataSource.query(
    `select table_name from information_schema.columns
      where table_schema = 'public' and column_name = 'known_until' order by table_name`,
  );
  return rows.map(({ table_name: name }) => name);
}
