import type { MigrationInterface, QueryRunner } from 'typeorm';
import { tellsStringNews } from './string-news.js';
import { versionedTable } from './versioned-table.js';

const CHART_LIMITS = versionedTable({
  name: 'chart_limits',
  columns: [
    'string_id uuid not null', 'chart_id uuid not null', 'chart_version int4 not null', 'number int4 not null', 'from_mm int4', 'to_mm int4',
    'applies_from_mm int4 not null', 'limits jsonb not null', 'removed jsonb not null', 'phi measured', 'points int4 not null', 'coils int4', 'warnings jsonb not null',
    'warnings_accepted_because text', 'study text not null', 'study_sha256 text not null', 'grounds text not null', 'statement text not null', 'signer_name text not null',
    'signer_roles text[] not null', 'signed_by text not null',
  ],
  references: { string_id: 'casing_string', chart_id: 'control_chart' },
  constraints: [
    "constraint ck_chart_limits_once check ((version = 1 and state = 'active') or (version = 2 and state = 'void'))",
    'constraint ck_chart_limits_number check (number >= 1)',
    'constraint ck_chart_limits_interval check (applies_from_mm >= 0 and num_nonnulls(from_mm, to_mm) <> 1 and from_mm >= 0 and to_mm > from_mm)',
    'constraint ck_chart_limits_counted check (points >= 2 and coils >= 1 and phi between -1 and 1)',
    'constraint ck_chart_limits_signer check (version > 1 or done_by = keyed_by)',
    "constraint ck_chart_limits_lists check (jsonb_typeof(removed) = 'array' and jsonb_typeof(warnings) = 'array')",
    "constraint ck_chart_limits_warnings check ((warnings = '[]') = (warnings_accepted_because is null))",
    // What was signed is stored whole; the database holds it to its own digest, and what is applied to what was signed.
    "constraint ck_chart_limits_digest check (study_sha256 = encode(sha256(convert_to(study, 'UTF8')), 'hex'))",
    `constraint ck_chart_limits_study check (coalesce(study::jsonb -> 'limits' = limits and study::jsonb -> 'warnings' = warnings
       and study::jsonb -> 'chart' @> jsonb_build_object('id', chart_id, 'version', chart_version)
       and study::jsonb -> 'span' = case when from_mm is null then 'null' else jsonb_build_object('fromMm', from_mm, 'toMm', to_mm) end, false))`,
  ],
  indexes: [
    'unique index uq_chart_limits_number on chart_limits (chart_id, number) where version = 1', 'index ix_chart_limits_chart_id on chart_limits (chart_id)',
    'index ix_chart_limits_known_from on chart_limits (string_id, known_from)',
  ],
});

/** EM021: limits are signed by an engineer of that name, of the chart as it stands, with the next number, and say for ever what they said. */
const SIGNED = [
  `create function refuse_unfit_limits() returns trigger language plpgsql set search_path = public, pg_catalog as $$
   declare
     first chart_limits;
   begin
     if new.version = 1 then
       if not exists (select 1 from person where id = new.keyed_by and known_until is null and state = 'active' and active
                         and name = new.signer_name and roles @> new.signer_roles and new.signer_roles @> array['materials-engineer']) then
         raise exception 'limits % are not signed by an engineer', new.id using errcode = 'EM021';
       end if;
       if not exists (select 1 from control_chart where id = new.chart_id and version = new.chart_version and known_until is null and state = 'active'
                         and string_id = new.string_id and chart = new.limits ->> 'chart') then
         raise exception 'limits % are not of a chart of the string as it stands', new.id using errcode = 'EM021';
       end if;
       if new.number > 1 and not exists (select 1 from chart_limits where chart_id = new.chart_id and number = new.number - 1) then
         raise exception 'limits % of a chart follow no limits %', new.number, new.number - 1 using errcode = 'EM021';
       end if;
       return new;
     end if;
     select * into first from chart_limits where id = new.id and version = 1;
     if (first.string_id, first.chart_id, first.chart_version, first.number, first.from_mm, first.to_mm, first.applies_from_mm, first.limits, first.removed, first.phi, first.points,
         first.coils, first.warnings, first.warnings_accepted_because, first.study_sha256, first.grounds, first.statement, first.signer_name, first.signer_roles,
         first.signed_by, first.done_by)
        is distinct from (new.string_id, new.chart_id, new.chart_version, new.number, new.from_mm, new.to_mm, new.applies_from_mm, new.limits, new.removed, new.phi, new.points,
         new.coils, new.warnings, new.warnings_accepted_because, new.study_sha256, new.grounds, new.statement, new.signer_name, new.signer_roles,
         new.signed_by, new.done_by) then
       raise exception 'what limits % said stays', new.id using errcode = 'EM021';
     end if;
     return new;
   end $$`,
  'create trigger signed before insert on chart_limits for each row execute function refuse_unfit_limits()',
];

/** Limits of control charts that somebody signed for, with the study that they come from. */
export class ChartLimits1764061200026 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    for (const statement of [...CHART_LIMITS, ...SIGNED, tellsStringNews('chart_limits')]) await runner.query(statement);
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
