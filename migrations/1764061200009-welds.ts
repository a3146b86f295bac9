import type { MigrationInterface, QueryRunner } from 'typeorm';
import { versionedTable } from './versioned-table.js';

const WELD = versionedTable({
  name: 'weld',
  columns: [
    'string_id uuid not null', 'splice_id uuid', 'rejoin_id uuid', 'weld_procedure_id uuid not null', 'readings jsonb not null', 'chosen jsonb not null',
    'filler_batch text', 'gas_batch text', 'note text',
  ],
  references: { string_id: 'casing_string', splice_id: 'splice', rejoin_id: 'rejoin', weld_procedure_id: 'weld_procedure' },
  constraints: ['constraint ck_weld_of check (num_nonnulls(splice_id, rejoin_id) = 1)'],
  indexes: [
    'index ix_weld_string_id on weld (string_id)',
    'index ix_weld_splice_id on weld (splice_id) where splice_id is not null',
    'index ix_weld_rejoin_id on weld (rejoin_id) where rejoin_id is not null',
    'index ix_weld_procedure_id on weld (weld_procedure_id)',
    'index ix_weld_filler_batch on weld (upper(filler_batch)) where filler_batch is not null',
    'index ix_weld_readings on weld using gin (readings jsonb_path_ops)',
  ],
});

/**
 * EM008: a procedure that was welded by says for ever what it said; the trigger's argument is the table that names it. The
 * first version is locked against a row that names it at the same moment: a foreign key holds that version.
 */
const FREEZE_PROCEDURE = `
create function refuse_frozen_procedure() returns trigger language plpgsql set search_path = public, pg_catalog as $$
declare
  in_use boolean;
begin
  if new.version = 1 or new.state = 'void' then
    return new;
  end if;
  perform 1 from weld_procedure where id = new.id and version = 1 for update;
  execute format('select exists (select 1 from %I where weld_procedure_id = $1)', tg_argv[0]) into in_use using new.id;
  if in_use then
    raise exception 'revision % of procedure % is in use', new.revision, new.number using errcode = 'EM008';
  end if;
  return new;
end $$`;

/** What was set and measured when a splice or a re-join was welded, and by which procedure. */
export class Welds1764061200009 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    for (const statement of [...WELD, FREEZE_PROCEDURE]) await runner.query(statement);
    await runner.query(
      "create trigger keep_frozen before insert on weld_procedure for each row execute function refuse_frozen_procedure('weld')",
    );
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
