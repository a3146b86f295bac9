import type { MigrationInterface, QueryRunner } from 'typeorm';
import { STANDING, versionedTable } from './versioned-table.js';

const TABLES = [
  versionedTable({
    name: 'well',
    columns: ['name text not null', 'datum text not null', 'note text'],
    indexes: [`unique index uq_well_name on well (lower(name)) where ${STANDING}`],
  }),
  versionedTable({
    name: 'casing_string',
    columns: [
      'well_id uuid not null', 'name text not null', 'footage_limit_mm int8 not null',
      'outside_diameter_mm measured not null', 'wall_thickness_mm measured not null',
      'master_counter text not null', 'length_ratio measured not null', 'length_ratio_u measured not null',
      'diameter_ratio measured', 'diameter_ratio_u measured', 'note text',
    ],
    references: { well_id: 'well' },
    constraints: [
      'constraint ck_casing_string_limit check (footage_limit_mm between 1 and 100000000)',
      'constraint ck_casing_string_ratio check (length_ratio > 0 and length_ratio_u >= 0)',
    ],
    indexes: [`unique index uq_casing_string_name on casing_string (well_id, lower(name)) where ${STANDING}`],
  }),
  versionedTable({
    name: 'device',
    columns: [
      'name text not null', 'string_id uuid not null', 'counters text[] not null', 'expires_at timestamptz not null',
      'active boolean not null',
    ],
    references: { string_id: 'casing_string' },
  }),
  versionedTable({
    name: 'heat',
    columns: ['number text not null', 'steelmaker text', 'grade text not null', 'cast_on date'],
    indexes: [`unique index uq_heat_number on heat (upper(number)) where ${STANDING}`],
  }),
  versionedTable({
    name: 'certificate',
    columns: [
      'number text not null', 'issuer text not null', 'document_type text not null', 'issued_on date not null',
      'note text',
    ],
    indexes: [`unique index uq_certificate_number on certificate (upper(issuer), upper(number)) where ${STANDING}`],
  }),
  versionedTable({
    name: 'coil',
    columns: [
      'number text not null', 'heat_id uuid not null', 'certificate_id uuid', 'width_mm measured not null',
      'thickness_mm measured not null', 'mass_kg measured not null', 'length_mm int8',
      'crop_mm int8 not null', 'rest_mm int8 not null', 'note text',
    ],
    references: { heat_id: 'heat', certificate_id: 'certificate' },
    constraints: ['constraint ck_coil_length check (length_mm > 0 and crop_mm >= 0 and rest_mm >= 0)'],
    indexes: [
      `unique index uq_coil_number on coil (upper(number)) where ${STANDING}`,
      `index ix_coil_heat_id on coil (heat_id) where known_until is null`,
      `index ix_coil_certificate_id on coil (certificate_id) where known_until is null`,
    ],
  }),
];

/** A string never declares less footage than what already stands on it. EM006 as for the records themselves. */
const KEEP_GROUND = `
create function refuse_lost_ground() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.version = 1 then
    return new;
  end if;
  if exists (
    select 1 from coil_segment where string_id = new.id and known_until is null and upper(span) > new.footage_limit_mm
    union all
    select 1 from splice where string_id = new.id and known_until is null and upper(span) > new.footage_limit_mm
    union all
    select 1 from cut_out where string_id = new.id and known_until is null and upper(span) > new.footage_limit_mm
    union all
    select 1 from hang_off where string_id = new.id and known_until is null and upper(span) > new.footage_limit_mm
    union all
    select 1 from inspection where string_id = new.id and known_until is null and upper(span) > new.footage_limit_mm
    union all
    select 1 from nonconformance
      where string_id = new.id and known_until is null and upper(extent) > new.footage_limit_mm
  ) then
    raise exception 'records of this string lie beyond % mm', new.footage_limit_mm using errcode = 'EM006';
  end if;
  return new;
end $$`;

/** Moves whenever what is shown of a string does: its own row, or the one of the nil id that stands for all strings. */
const REVISION = `
  coalesce((select string_agg(r.string_id || ' ' || r.revision, ', ' order by r.string_id)
      from string_revision r where r.string_id in (string, '00000000-0000-0000-0000-000000000000')), '')`;

const REVISION_OF = `
create function revision_of(string uuid) returns text language sql stable as $$ select ${REVISION} $$`;

/**
 * What every write begins with: who writes, the string's lock, and then, with the lock held, the time and the string's
 * revision. Volatile, so that the revision is read as it stands once the lock is there, not when the statement began.
 */
const OPEN_WRITE = `
create function open_write(actor text, via text, request text, string uuid, alone boolean)
  returns table (known_at timestamptz, revision text) language plpgsql volatile as $$
begin
  perform set_config('app.actor', actor, true), set_config('app.via', via, true), set_config('app.request', request, true);
  if alone then
    perform pg_advisory_xact_lock(hashtextextended(string::text, 0));
  elsif string is not null then
    perform pg_advisory_xact_lock_shared(hashtextextended(string::text, 0));
  end if;
  revision := ${REVISION};
  known_at := clock_timestamp();
  return next;
end $$`;

/** Wells, their strings and the line computers of these; heats, certificates and coils. */
export class StripAndStrings1764061200002 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    for (const statement of TABLES.flat()) await runner.query(statement);
    await runner.query(KEEP_GROUND);
    await runner.query(
      `create trigger keep_ground before insert on casing_string for each row execute function refuse_lost_ground()`,
    );
    // Raised by every write that moves a string's length model: a cached model is good while this stands still.
    await runner.query(
      `create table string_revision (string_id uuid constraint pk_string_revision primary key,
         revision int8 not null)`,
    );
    await runner.query('grant select, insert, update (revision) on string_revision to everymetre_app');
    await runner.query(REVISION_OF);
    await runner.query(OPEN_WRITE);
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
