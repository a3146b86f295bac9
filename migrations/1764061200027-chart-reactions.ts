import type { MigrationInterface, QueryRunner } from 'typeorm';
import { tellsStringNews } from './string-news.js';
import { versionedTable } from './versioned-table.js';

const CHART_REACTION = versionedTable({
  name: 'chart_reaction',
  columns: [
    'string_id uuid not null', 'chart_id uuid not null', 'limits_id uuid not null', 'answers jsonb not null', 'reading text not null', 'repeated_value measured',
    'repeated_with_instrument_id uuid', 'not_repeated_because text', 'watch_from_mm int4', 'watch_to_mm int4', 'causes_looked_at text[] not null', 'cause text', 'action text not null',
    'did text', 'nonconformance_id uuid', 'note text',
  ],
  // No key leads to the limits: they are withdrawn whatever was done about their signals.
  references: { string_id: 'casing_string', chart_id: 'control_chart', repeated_with_instrument_id: 'instrument', nonconformance_id: 'nonconformance' },
  constraints: [
    "constraint ck_chart_reaction_answers check (case jsonb_typeof(answers) when 'array' then jsonb_array_length(answers) between 1 and 100 else false end)",
    "constraint ck_chart_reaction_reading check (reading in ('real', 'not-real', 'not-repeated'))",
    "constraint ck_chart_reaction_action check (action in ('none-needed', 'adjusted', 'stopped', 'nonconformance'))",
    `constraint ck_chart_reaction_repeated check ((repeated_value is null) = (not_repeated_because is not null)
       and (reading <> 'not-repeated' or repeated_value is null) and (repeated_with_instrument_id is null or repeated_value is not null))`,
    'constraint ck_chart_reaction_watch check (num_nonnulls(watch_from_mm, watch_to_mm) <> 1 and watch_from_mm >= 0 and watch_to_mm > watch_from_mm)',
    "constraint ck_chart_reaction_did check (action not in ('adjusted', 'stopped') or did is not null)",
    "constraint ck_chart_reaction_of check ((action = 'nonconformance') = (nonconformance_id is not null))",
  ],
  indexes: [
    'index ix_chart_reaction_chart_id on chart_reaction (chart_id)', 'index ix_chart_reaction_known_from on chart_reaction (string_id, known_from)',
    'index ix_chart_reaction_instrument_id on chart_reaction (repeated_with_instrument_id) where repeated_with_instrument_id is not null',
    'index ix_chart_reaction_nonconformance_id on chart_reaction (nonconformance_id) where nonconformance_id is not null',
  ],
});

/** What a reaction names is of its string and chart, and its signals lie on the string (EM006) or are called by a label. */
const KEEP_SIGNALS = [
  `create function refuse_strange_reaction() returns trigger language plpgsql set search_path = public, pg_catalog as $$
declare
  ground int4;
begin
  if new.state = 'void' or jsonb_typeof(new.answers) <> 'array' then
    return new; -- of what is no list its constraint speaks
  end if;
  if exists (select 1 from control_chart where id = new.chart_id and version = 1 and string_id <> new.string_id) then
    raise exception 'a reaction is to a chart of its string' using errcode = '23514', constraint = 'ck_chart_reaction_chart';
  end if;
  if not exists (select 1 from chart_limits where id = new.limits_id and version = 1 and chart_id = new.chart_id) then
    raise exception 'a reaction is to signals against limits of its chart' using errcode = '23514', constraint = 'ck_chart_reaction_limits';
  end if;
  if exists (select 1 from nonconformance where id = new.nonconformance_id and version = 1 and string_id <> new.string_id) then
    raise exception 'a reaction leads to a nonconformance of its string' using errcode = '23514', constraint = 'ck_chart_reaction_nonconformance';
  end if;
  select footage_limit_mm into ground from casing_string where id = new.string_id and known_until is null;
  if new.watch_to_mm > ground or exists (select 1 from jsonb_array_elements(new.answers) as answer where (answer ->> 'toMm')::int8 > ground) then
    raise exception 'the pipe of a reaction lies beyond % mm', ground using errcode = 'EM006';
  end if;
  if exists (
    select 1 from jsonb_array_elements(new.answers) as answer
     where not coalesce(case when answer ->> 'fromMm' is null and answer ->> 'toMm' is null then answer ->> 'label' <> ''
                             else (answer ->> 'fromMm')::int8 >= 0 and (answer ->> 'toMm')::int8 > (answer ->> 'fromMm')::int8 end, false)
  ) then
    raise exception 'a signal has a place or a label' using errcode = '23514', constraint = 'ck_chart_reaction_places';
  end if;
  return new;
end $$`,
  // As with placed records: a string never declares less footage than where such a record stands.
  `create function refuse_lost_charted_ground() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.version > 1 and exists (
    select 1 from chart_reaction where string_id = new.id and known_until is null
       and (watch_to_mm > new.footage_limit_mm or exists (select 1 from jsonb_array_elements(answers) as answer where (answer ->> 'toMm')::int8 > new.footage_limit_mm))
  ) then
    raise exception 'records of this string lie beyond % mm', new.footage_limit_mm using errcode = 'EM006';
  end if;
  return new;
end $$`,
  'create trigger keep_signals before insert on chart_reaction for each row execute function refuse_strange_reaction()',
  'create trigger keep_charted_ground before insert on casing_string for each row execute function refuse_lost_charted_ground()',
];

/** What was done about signals of control charts. */
export class ChartReactions1764061200027 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    for (const statement of [...CHART_REACTION, ...KEEP_SIGNALS, tellsStringNews('chart_reaction')]) await runner.query(statement);
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
