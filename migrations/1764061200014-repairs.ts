import type { MigrationInterface, QueryRunner } from 'typeorm';
import { versionedTable } from './versioned-table.js';

/** A record placed on the pipe: what was given of its place, and the footage derived from it. */
const PLACED = [
  'string_id uuid not null', 'given jsonb not null', 'span int8range not null', 'from_u_mm measured not null', 'to_u_mm measured not null',
  'predicted boolean not null', 'rests_on jsonb not null',
];

const notEmpty = (table: string): string =>
  `constraint ck_${table}_span check (not isempty(span) and not lower_inf(span) and not upper_inf(span))`;

/** An index on the ids of a column that many rows leave empty. */
const onIds = (table: string, column: string): string => `index ix_${table}_${column} on ${table} (${column}) where ${column} is not null`;

const REPAIR = versionedTable({
  name: 'repair',
  columns: [
    ...PLACED, 'method text not null', 'found text not null', 'splice_id uuid', 'rejoin_id uuid', 'inspection_id uuid', 'nonconformance_id uuid',
    'depth_removed_mm measured', 'remaining_wall_mm measured', 'wall_limit_mm measured', 'instrument_id uuid', 'weld_procedure_id uuid',
    'readings jsonb not null', 'chosen jsonb not null', 'filler_batch text', 'photo_sha256s text[] not null', 'note text',
  ],
  references: {
    string_id: 'casing_string', splice_id: 'splice', rejoin_id: 'rejoin', inspection_id: 'inspection', nonconformance_id: 'nonconformance',
    instrument_id: 'instrument', weld_procedure_id: 'weld_procedure',
  },
  insideString: 'span',
  constraints: [
    notEmpty('repair'),
    "constraint ck_repair_method check (method in ('grinding', 'machining', 'weld-repair', 'heat-treatment', 'straightening', 'sleeve'))",
    'constraint ck_repair_of check (num_nonnulls(splice_id, rejoin_id) <= 1)',
    "constraint ck_repair_procedure check ((method = 'weld-repair') = (weld_procedure_id is not null))",
    `constraint ck_repair_welded check (method = 'weld-repair'
      or (readings = '[]'::jsonb and chosen = '[]'::jsonb and filler_batch is null))`,
    'constraint ck_repair_depth check (depth_removed_mm >= 0 and remaining_wall_mm >= 0)',
    'constraint ck_repair_limit check (wall_limit_mm is null or remaining_wall_mm is not null)',
    'constraint ck_repair_instrument check (instrument_id is null or num_nonnulls(depth_removed_mm, remaining_wall_mm) > 0)',
  ],
  indexes: [
    'index ix_repair_span on repair using gist (string_id, span)',
    'index ix_repair_known_from on repair (string_id, known_from)',
    onIds('repair', 'splice_id'), onIds('repair', 'rejoin_id'), onIds('repair', 'instrument_id'), onIds('repair', 'weld_procedure_id'),
    'index ix_repair_filler_batch on repair (upper(filler_batch)) where filler_batch is not null',
    'index ix_repair_readings on repair using gin (readings jsonb_path_ops)',
  ],
});

const EXAMINATION = versionedTable({
  name: 'examination',
  columns: [
    ...PLACED, 'method text not null', 'technique text not null', 'reflector text', 'reflector_size_mm measured', 'outcome text not null', 'seen text',
    'splice_id uuid', 'rejoin_id uuid', 'repair_id uuid', 'instrument_id uuid', 'photo_sha256s text[] not null', 'note text',
    'stands_in_for text[] not null', 'stand_in_reason text', 'stand_in_by uuid',
  ],
  references: {
    string_id: 'casing_string', splice_id: 'splice', rejoin_id: 'rejoin', repair_id: 'repair', instrument_id: 'instrument', stand_in_by: 'person',
  },
  insideString: 'span',
  constraints: [
    notEmpty('examination'),
    "constraint ck_examination_method check (method in ('VT', 'RT', 'UT', 'MT', 'PT', 'ET'))",
    "constraint ck_examination_outcome check (outcome in ('accepted', 'held', 'rejected'))",
    `constraint ck_examination_reflector check (reflector in ('notch-inside', 'notch-outside', 'through-hole', 'flat-bottom-hole',
      'side-drilled-hole', 'wire', 'step-hole'))`,
    'constraint ck_examination_sensitivity check ((reflector is null) = (reflector_size_mm is null))',
    'constraint ck_examination_size check (reflector_size_mm > 0)',
    'constraint ck_examination_of check (num_nonnulls(splice_id, rejoin_id, repair_id) <= 1)',
    // Whoever made an examination does not say of it that it may stand in for another.
    `constraint ck_examination_stand_in check (num_nonnulls(stand_in_reason, stand_in_by) = case when cardinality(stands_in_for) = 0 then 0 else 2 end
      and stands_in_for <@ array['VT', 'RT', 'UT', 'MT', 'PT', 'ET'] and method <> all (stands_in_for) and stand_in_by <> done_by)`,
  ],
  indexes: [
    'index ix_examination_span on examination using gist (string_id, span)',
    'index ix_examination_known_from on examination (string_id, known_from)',
    onIds('examination', 'splice_id'), onIds('examination', 'rejoin_id'), onIds('examination', 'repair_id'), onIds('examination', 'instrument_id'),
  ],
});

/** EM006: a string never declares less footage than where it was repaired and examined, as with the other placed records. */
const KEEP_GROUND = `
create function refuse_lost_repaired_ground() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.version > 1 and exists (
    select 1 from repair where string_id = new.id and known_until is null and upper(span) > new.footage_limit_mm
    union all
    select 1 from examination where string_id = new.id and known_until is null and upper(span) > new.footage_limit_mm
  ) then
    raise exception 'records of this string lie beyond % mm', new.footage_limit_mm using errcode = 'EM006';
  end if;
  return new;
end $$`;

/** What was repaired on the pipe, and how it was examined. */
export class Repairs1764061200014 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    for (const statement of [...REPAIR, ...EXAMINATION, KEEP_GROUND]) await runner.query(statement);
    await runner.query('create trigger keep_repaired_ground before insert on casing_string for each row execute function refuse_lost_repaired_ground()');
    // A procedure that a repair was welded by is frozen, as one that a weld was made by is (see the welds).
    await runner.query(
      "create trigger keep_frozen_by_repair before insert on weld_procedure for each row execute function refuse_frozen_procedure('repair')",
    );
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
