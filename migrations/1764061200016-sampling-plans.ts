import type { MigrationInterface, QueryRunner } from 'typeorm';
import { STANDING, versionedTable } from './versioned-table.js';

const SAMPLING_PLAN = versionedTable({
  name: 'sampling_plan',
  columns: [
    'number text not null', 'revision int4 not null', 'title text not null', 'effective_from date not null', 'tests jsonb not null', 'note text',
  ],
  constraints: [
    'constraint ck_sampling_plan_revision check (revision >= 1)',
    "constraint ck_sampling_plan_tests check (jsonb_typeof(tests) = 'array' and jsonb_array_length(tests) > 0)",
  ],
  indexes: [`unique index uq_sampling_plan_revision on sampling_plan (upper(number), revision) where ${STANDING}`],
});

const SAMPLING_PLAN_ASSIGNMENT = versionedTable({
  name: 'sampling_plan_assignment',
  columns: ['string_id uuid not null', 'sampling_plan_id uuid not null', 'from_day date not null', 'note text'],
  references: { string_id: 'casing_string', sampling_plan_id: 'sampling_plan' },
  indexes: [
    // Of two from one day on nobody could say which is in force.
    `unique index uq_sampling_plan_assignment_day on sampling_plan_assignment (string_id, from_day) where ${STANDING}`,
    'index ix_sampling_plan_assignment_known_from on sampling_plan_assignment (string_id, known_from)',
    'index ix_sampling_plan_assignment_string_id on sampling_plan_assignment (string_id)',
    'index ix_sampling_plan_assignment_plan_id on sampling_plan_assignment (sampling_plan_id)',
  ],
});

/**
 * EM008: a plan that a string was assigned says for ever what it said. The first version is locked against a row that names it
 * at the same moment: a foreign key holds that version.
 */
const FREEZE_PLAN = `
create function refuse_frozen_sampling_plan() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.version = 1 or new.state = 'void' then
    return new;
  end if;
  perform 1 from sampling_plan where id = new.id and version = 1 for update;
  if exists (select 1 from sampling_plan_assignment where sampling_plan_id = new.id) then
    raise exception 'revision % of sampling plan % is in use', new.revision, new.number using errcode = 'EM008';
  end if;
  return new;
end $$`;

/** No string is assigned a plan from a day before the plan is effective. */
const KEEP_DAY = `
create function refuse_early_assignment() returns trigger language plpgsql set search_path = public, pg_catalog as $$
declare
  effective date;
begin
  if new.state = 'void' then
    return new;
  end if;
  perform 1 from sampling_plan where id = new.sampling_plan_id and version = 1 for key share;
  select effective_from into effective from sampling_plan where id = new.sampling_plan_id and known_until is null;
  if new.from_day < effective then
    raise exception 'the sampling plan is effective from % only', effective
      using errcode = '23514', constraint = 'ck_sampling_plan_assignment_from_day';
  end if;
  return new;
end $$`;

/** Content of a test beside its readings; a kind of test has its own. */
const TEST_CONTENT = `
alter table destructive_test
  add column flattening jsonb, add column flaring jsonb, add column reverse_bend jsonb, add column reverse_flattening jsonb,
  add constraint ck_destructive_test_flattening check (flattening is null or kind = 'flattening'),
  add constraint ck_destructive_test_flaring check (flaring is null or kind = 'flaring'),
  add constraint ck_destructive_test_reverse_bend check (reverse_bend is null or kind = 'reverse-bend'),
  add constraint ck_destructive_test_reverse_flattening check (reverse_flattening is null or kind in ('flattening', 'reverse-bend')),
  add constraint ck_destructive_test_one_piece check (num_nonnulls(flattening, reverse_flattening) <= 1)`;

/** A sample beside a stop may name the record of the stop: its place then goes with it when a counter is corrected. */
const STOP_OF_SAMPLE = [
  `alter table test_sample add column seam_event_id uuid,
  add constraint fk_test_sample_seam_event_id foreign key (seam_event_id, one) references seam_event (id, version),
  add constraint ck_test_sample_seam_event check (seam_event_id is null or stop_footage_mm is not null)`,
  'create index ix_test_sample_seam_event_id on test_sample (seam_event_id) where seam_event_id is not null',
];

/**
 * A test is never earlier than its sample, whichever of the two is written last. Both lock the first version of the sample,
 * so that neither misses the other.
 */
const KEEP_ORDER = [
  `create function refuse_test_before_sample() returns trigger language plpgsql set search_path = public, pg_catalog as $$
declare
  taken_at timestamptz;
begin
  if new.state = 'void' then
    return new;
  end if;
  perform 1 from test_sample where id = new.test_sample_id and version = 1 for key share;
  select observed_at into taken_at from test_sample where id = new.test_sample_id and known_until is null;
  if new.observed_at < taken_at then
    raise exception 'a test is not made before its sample is taken'
      using errcode = '23514', constraint = 'ck_destructive_test_after_sample';
  end if;
  return new;
end $$`,
  `create function refuse_sample_after_tests() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.version = 1 or new.state = 'void' then
    return new;
  end if;
  perform 1 from test_sample where id = new.id and version = 1 for update;
  if exists (
    select 1 from destructive_test
     where test_sample_id = new.id and observed_at < new.observed_at and known_until is null and state = 'active'
  ) then
    raise exception 'a sample is not taken after a test of it'
      using errcode = '23514', constraint = 'ck_test_sample_before_tests';
  end if;
  return new;
end $$`,
];

const TRIGGERS = [
  'create trigger keep_frozen before insert on sampling_plan for each row execute function refuse_frozen_sampling_plan()',
  'create trigger keep_day before insert on sampling_plan_assignment for each row execute function refuse_early_assignment()',
  'create trigger keep_after_sample before insert on destructive_test for each row execute function refuse_test_before_sample()',
  'create trigger keep_before_tests before insert on test_sample for each row execute function refuse_sample_after_tests()',
];

/** How often a string is sampled and what follows a failure, by plans on record; how a test was made; samples by the record of their stop. */
export class SamplingPlans1764061200016 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    const statements = [...SAMPLING_PLAN, ...SAMPLING_PLAN_ASSIGNMENT, FREEZE_PLAN, KEEP_DAY, TEST_CONTENT, ...STOP_OF_SAMPLE, ...KEEP_ORDER, ...TRIGGERS];
    for (const statement of statements) await runner.query(statement);
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
