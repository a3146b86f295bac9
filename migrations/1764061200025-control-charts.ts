import type { MigrationInterface, QueryRunner } from 'typeorm';
import { tellsStringNews } from './string-news.js';
import { STANDING, versionedTable } from './versioned-table.js';

/** Charts whose points are put together from readings; all others count, or measure what lies between two events. */
const OF_READINGS = "('mean-range', 'mean-deviation', 'between-within', 'individuals', 'long-term', 'batch-means', 'residuals', 'ewma', 'cusum')";

const CONTROL_CHART = versionedTable({
  name: 'control_chart',
  columns: [
    'string_id uuid not null', 'code text not null', 'title text not null', 'characteristic jsonb not null', 'unit text not null', 'subgroup jsonb', 'leave_out jsonb not null',
    'chart text not null', 'rules text[] not null', 'lambda measured', 'width measured', 'k measured', 'h measured', 'batch_size int4', 'alpha measured', 'specification jsonb',
    'reaction jsonb not null', 'note text',
  ],
  references: { string_id: 'casing_string' },
  constraints: [
    "constraint ck_control_chart_code check (code ~ '^[A-Z0-9][A-Z0-9.-]{0,19}$')",
    `constraint ck_control_chart_fits check (coalesce(case
       when chart in ${OF_READINGS} then characteristic ->> 'of' in ('inspected', 'splice-reading', 'coil-reading', 'channel', 'reference-amplitude', 'counter-ratio')
       when chart in ('p', 'np', 'adjusted-p') then characteristic ->> 'of' = 'rejected-inspections'
       when chart in ('c', 'u', 'adjusted-u') then characteristic ->> 'of' in ('indications', 'repairs')
       when chart in ('t', 'g') then characteristic ->> 'of' = 'between-indications'
       when chart = 't-squared' then characteristic ->> 'of' = 'channel' end, false))`,
    `constraint ck_control_chart_subgroup check ((subgroup is not null) = (chart in ${OF_READINGS}))`,
    `constraint ck_control_chart_size check (subgroup is null or coalesce((subgroup ->> 'size')::int4, 0)
       between case when chart in ('mean-range', 'mean-deviation', 'between-within') then 2 else 1 end and 25)`,
    `constraint ck_control_chart_tuning check (num_nonnulls(lambda, width) = case when chart = 'ewma' then 2 else 0 end
       and num_nonnulls(k, h) = case when chart = 'cusum' then 2 else 0 end
       and (batch_size is not null) = (chart = 'batch-means') and (alpha is not null) = (chart = 't-squared'))`,
    `constraint ck_control_chart_tuned check (lambda > 0 and lambda <= 1 and width > 0 and width <= 6 and k >= 0 and h > 0
       and batch_size between 2 and 1000 and alpha between 0.0001 and 0.05)`,
    "constraint ck_control_chart_rules check ((cardinality(rules) = 0) = (chart in ('ewma', 'cusum', 't', 'g', 't-squared')))",
    'constraint ck_control_chart_specification check (specification is null or subgroup is not null)',
  ],
  indexes: [
    `unique index uq_control_chart_code on control_chart (string_id, code) where ${STANDING}`,
    'index ix_control_chart_known_from on control_chart (string_id, known_from)',
  ],
});

/** Its channels are named in a list, as those of a control plan: kept by the lock of their first versions. */
const KEEP_CHANNELS = [
  `create function refuse_strange_chart_channels() returns trigger language plpgsql set search_path = public, pg_catalog as $$
declare
  named uuid[];
begin
  if new.state = 'void' then
    return new;
  end if;
  select array_agg((id #>> '{}')::uuid) into named from jsonb_path_query(new.characteristic, '$.channelIds[*]') as id;
  perform 1 from channel where id = any (named) and version = 1 for share;
  if exists (
    select 1 from unnest(named) as one (id)
     where not exists (select 1 from channel c where c.id = one.id and c.string_id = new.string_id and c.known_until is null and c.state = 'active')
  ) then
    raise exception 'the channels of a control chart are of its string' using errcode = '23514', constraint = 'ck_control_chart_own_channels';
  end if;
  return new;
end $$`,
  // EM007, as where a key holds a record.
  `create function refuse_channel_held_by_chart() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.version = 1 or new.state <> 'void' then
    return new;
  end if;
  perform 1 from channel where id = new.id and version = 1 for update;
  if exists (
    select 1 from control_chart where characteristic @> jsonb_build_object('channelIds', jsonb_build_array(new.id)) and known_until is null and state = 'active'
  ) then
    raise exception 'a record of control_chart still rests on it' using errcode = 'EM007';
  end if;
  return new;
end $$`,
  'create trigger keep_channels before insert on control_chart for each row execute function refuse_strange_chart_channels()',
  'create trigger keep_charts before insert on channel for each row execute function refuse_channel_held_by_chart()',
];

/** What of the pipe is charted, how its readings are put together, and what to do when the chart signals. */
export class ControlCharts1764061200025 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    for (const statement of [...CONTROL_CHART, ...KEEP_CHANNELS, tellsStringNews('control_chart')]) await runner.query(statement);
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
