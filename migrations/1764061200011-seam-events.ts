import type { MigrationInterface, QueryRunner } from 'typeorm';
import { versionedTable } from './versioned-table.js';

const SEAM_EVENT = versionedTable({
  name: 'seam_event',
  columns: [
    'string_id uuid not null', 'given jsonb not null', 'span int8range not null', 'from_u_mm measured not null', 'to_u_mm measured not null',
    'predicted boolean not null', 'rests_on jsonb not null', 'event text not null', 'weld_procedure_id uuid not null', 'readings jsonb not null',
    'cause text', 'note text',
  ],
  references: { string_id: 'casing_string', weld_procedure_id: 'weld_procedure' },
  insideString: 'span',
  constraints: [
    'constraint ck_seam_event_span check (not isempty(span) and not lower_inf(span) and not upper_inf(span))',
    "constraint ck_seam_event_event check (event in ('start', 'stop', 'restart', 'set-up-change'))",
    "constraint ck_seam_event_cause check (event <> 'stop' or cause is not null)",
  ],
  indexes: [
    'index ix_seam_event_span on seam_event using gist (string_id, span)',
    'index ix_seam_event_procedure_id on seam_event (weld_procedure_id)',
    'index ix_seam_event_readings on seam_event using gin (readings jsonb_path_ops)',
  ],
});

/** EM006: a string never declares less footage than where its seam events stand, as with the other placed records. */
const KEEP_GROUND = `
create function refuse_lost_seam_ground() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.version > 1 and exists (
    select 1 from seam_event where string_id = new.id and known_until is null and upper(span) > new.footage_limit_mm
  ) then
    raise exception 'records of this string lie beyond % mm', new.footage_limit_mm using errcode = 'EM006';
  end if;
  return new;
end $$`;

/** Starts, stops, restarts and set-up changes of the seam weld. */
export class SeamEvents1764061200011 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    for (const statement of [...SEAM_EVENT, KEEP_GROUND]) await runner.query(statement);
    // A procedure that the seam was welded by is frozen, as one that a weld was made by is (see the welds).
    await runner.query(
      "create trigger keep_frozen_by_seam before insert on weld_procedure for each row execute function refuse_frozen_procedure('seam_event')",
    );
    await runner.query('create trigger keep_seam_ground before insert on casing_string for each row execute function refuse_lost_seam_ground()');
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
