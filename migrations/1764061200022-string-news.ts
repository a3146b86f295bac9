import type { MigrationInterface, QueryRunner } from 'typeorm';
import { tellsStringNews } from './string-news.js';

/**
 * Which strings somebody watches just now, and until when without a sign of life. It says nothing that has to outlive a crash:
 * who watches writes it again when its connection comes back.
 */
const WATCH = `
create unlogged table string_watch (
  string_id uuid not null, watcher uuid not null, until timestamptz not null,
  constraint pk_string_watch primary key (string_id, watcher))`;

/**
 * Told at the commit, once for each table that a transaction wrote. Transactions that tell something commit one after another,
 * each with its own flush, so that where nobody watches nothing is told: eight lines that write at once would else take twice
 * the time.
 */
const TELL = `
create function tell_string_news() returns trigger language plpgsql set search_path = public, pg_catalog as $$
declare
  about uuid;
begin
  if tg_table_name = 'casing_string' then
    about := new.id;
  else
    about := new.string_id;
  end if;
  if exists (select 1 from string_watch where string_id = about and until > clock_timestamp()) then
    perform pg_notify('string_news', about::text || ' ' || tg_table_name);
  end if;
  return null;
end $$`;

/** The string itself, and every table of record versions that belong to one, or may. */
const TABLES = [
  'attendance', 'casing_string', 'channel', 'coil_segment', 'control_plan', 'counter_period', 'counter_reading', 'cut_out', 'destructive_test', 'detection', 'device',
  'evidence_waiver', 'examination', 'handover', 'handover_acceptance', 'hang_off', 'hold', 'hold_lifting', 'indication', 'indication_evaluation', 'indication_rule', 'inspection', 'inspection_run', 'line_setup', 'nonconformance', 'reference_check',
  'rejoin', 'repair', 'sampling_plan_assignment', 'seam_event', 'shift', 'shift_event', 'shoe_tie', 'signal_mark', 'splice', 'splice_step', 'test_sample', 'weld',
];

/** Who watches a string hears at once what is written of it, by whichever process. */
export class StringNews1764061200022 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    for (const statement of [WATCH, 'grant select on string_watch to everymetre_app', TELL, ...TABLES.map(tellsStringNews)]) await runner.query(statement);
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
