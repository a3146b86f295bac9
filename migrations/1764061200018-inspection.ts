import type { MigrationInterface, QueryRunner } from 'typeorm';
import { STANDING, versionedTable } from './versioned-table.js';

const STRING = { string_id: 'casing_string' };

/** A record placed on the pipe: what was given of its place, and the footage derived from it. */
const PLACED = [
  'string_id uuid not null', 'given jsonb not null', 'span int8range not null', 'from_u_mm measured not null', 'to_u_mm measured not null',
  'predicted boolean not null', 'rests_on jsonb not null',
];

const notEmpty = (table: string): string =>
  `constraint ck_${table}_span check (not isempty(span) and not lower_inf(span) and not upper_inf(span))`;

const knownFrom = (table: string): string => `index ix_${table}_known_from on ${table} (string_id, known_from)`;

const CHANNEL = versionedTable({
  name: 'channel',
  columns: [
    'string_id uuid not null', 'name text not null', 'measures text not null', 'unit text not null', 'method text', 'technique text', 'station text',
    'zone text not null', 'probe text', 'clock_from_deg measured', 'clock_to_deg measured', 'sampling jsonb not null', 'threshold jsonb', 'required boolean not null',
    'missing_values text[] not null', 'saturates_at jsonb not null', 'plausible jsonb not null', 'stuck_after int4', 'noise_floor_least measured',
    'speed_window jsonb', 'splice_margin_mm int4', 'repeats text not null', 'check_every_minutes int4 not null', 'check_grace_minutes int4 not null',
    'check_rule_source text', 'note text',
  ],
  references: STRING,
  constraints: [
    "constraint ck_channel_name check (name ~ '^[A-Za-z0-9][A-Za-z0-9_.-]{0,39}$')",
    `constraint ck_channel_measures check (measures in ('wall-thickness', 'eddy-current-amplitude', 'ultrasonic-amplitude', 'flux-leakage-amplitude',
      'weld-power', 'temperature', 'speed', 'other'))`,
    "constraint ck_channel_method check (method in ('VT', 'RT', 'UT', 'MT', 'PT', 'ET'))",
    // An amplitude examines and says by what method; what tells of the process examines nothing.
    `constraint ck_channel_method_of check (case when measures like '%-amplitude' then method is not null
      when measures in ('weld-power', 'temperature', 'speed') then method is null else true end)`,
    "constraint ck_channel_zone check (zone in ('seam', 'heat-affected-zone', 'body', 'whole'))",
    `constraint ck_channel_clock check (num_nonnulls(clock_from_deg, clock_to_deg) <> 1 and clock_from_deg between 0 and 360
      and clock_to_deg between 0 and 360)`,
    `constraint ck_channel_sampling check ((sampling ->> 'per' = 'length' and sampling ->> 'everyMm' is not null)
      or (sampling ->> 'per' = 'time' and sampling ->> 'everyMs' is not null))`,
    'constraint ck_channel_counts check (stuck_after >= 2 and splice_margin_mm >= 0 and noise_floor_least >= 0)',
    "constraint ck_channel_repeats check (repeats in ('best', 'latest'))",
    'constraint ck_channel_checks check (check_every_minutes >= 1 and check_grace_minutes >= 0)',
  ],
  indexes: [`unique index uq_channel_name on channel (string_id, upper(name)) where ${STANDING}`, knownFrom('channel')],
});

const INSPECTION_RUN = versionedTable({
  name: 'inspection_run',
  columns: [
    'string_id uuid not null', 'ended_at timestamptz', 'counter text not null', 'channel_ids uuid[] not null', 'settings jsonb not null',
    'standard_id uuid', 'end_reason text', 'note text',
  ],
  references: { ...STRING, standard_id: 'instrument' },
  constraints: [
    'constraint ck_inspection_run_ended_at check (ended_at > observed_at)',
    'constraint ck_inspection_run_end_reason check (end_reason is null or ended_at is not null)',
    'constraint ck_inspection_run_channels check (cardinality(channel_ids) >= 1)',
  ],
  indexes: [
    'index ix_inspection_run_channel_ids on inspection_run using gin (channel_ids)',
    'index ix_inspection_run_standard_id on inspection_run (standard_id) where standard_id is not null',
    knownFrom('inspection_run'),
  ],
});

const SIGNAL_MARK = versionedTable({
  name: 'signal_mark',
  columns: [...PLACED, 'run_id uuid not null', 'channel_ids uuid[] not null', 'effect text not null', 'cause text not null', 'note text'],
  references: { ...STRING, run_id: 'inspection_run' },
  insideString: 'span',
  constraints: [
    notEmpty('signal_mark'),
    "constraint ck_signal_mark_effect check (effect in ('not-valid', 'excluded'))",
    `constraint ck_signal_mark_cause check (cause in ('probe-lifted', 'splice', 'coupling-lost', 'off-weld-line', 'reference-standard', 'line-stop',
      'review', 'other'))`,
    'constraint ck_signal_mark_channels check (cardinality(channel_ids) >= 1)',
  ],
  indexes: [
    'index ix_signal_mark_span on signal_mark using gist (string_id, span)', 'index ix_signal_mark_run_id on signal_mark (run_id)', knownFrom('signal_mark'),
  ],
});

const REFERENCE_CHECK = versionedTable({
  name: 'reference_check',
  columns: [
    ...PLACED, 'run_id uuid not null', 'standard_id uuid not null', 'mode text not null', 'occasion text not null', 'results jsonb not null',
    'void_reason text', 'action text', 'note text',
  ],
  references: { ...STRING, run_id: 'inspection_run', standard_id: 'instrument' },
  insideString: 'span',
  constraints: [
    notEmpty('reference_check'),
    "constraint ck_reference_check_mode check (mode in ('static', 'dynamic'))",
    "constraint ck_reference_check_occasion check (occasion in ('start', 'interval', 'operator-change', 'set-up-change', 'end', 'other'))",
    // A check that counts for nothing may have shown nothing.
    "constraint ck_reference_check_results check (jsonb_typeof(results) = 'array' and (results <> '[]'::jsonb or void_reason is not null))",
  ],
  indexes: [
    'index ix_reference_check_span on reference_check using gist (string_id, span)',
    'index ix_reference_check_run_id on reference_check (run_id)', 'index ix_reference_check_standard_id on reference_check (standard_id)',
    'index ix_reference_check_results on reference_check using gin (results jsonb_path_ops)', knownFrom('reference_check'),
  ],
});

/**
 * Lists of ids have no foreign keys: what these would see to is seen to here. Who names a channel or run shares the lock of its
 * first version, and who takes it away holds it alone, so that neither is decided on what the other changes.
 */
const KEEP_CHANNELS = [
  `create function refuse_strange_channels() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.state = 'void' then
    return new;
  end if;
  perform 1 from channel where id = any (new.channel_ids) and version = 1 for share;
  if exists (
    select 1 from unnest(new.channel_ids) as named (id)
     where not exists (select 1 from channel c where c.id = named.id and c.string_id = new.string_id and c.known_until is null and c.state = 'active')
  ) then
    raise exception 'the channels of a run are of its string' using errcode = '23514', constraint = 'ck_inspection_run_own_channels';
  end if;
  return new;
end $$`,
  // EM007, as where a key holds a record.
  `create function refuse_held_channel() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.version = 1 or new.state <> 'void' then
    return new;
  end if;
  perform 1 from channel where id = new.id and version = 1 for update;
  if exists (select 1 from inspection_run where channel_ids @> array[new.id] and known_until is null and state = 'active') then
    raise exception 'a record of inspection_run still rests on it' using errcode = 'EM007';
  end if;
  return new;
end $$`,
  `create function named_channels(record jsonb) returns uuid[] language sql immutable set search_path = public, pg_catalog as $$
  select coalesce(array_agg(id::uuid), '{}') from (
    select jsonb_array_elements_text(record -> 'channel_ids') as id where record ? 'channel_ids'
    union all
    select jsonb_array_elements(record -> 'results') ->> 'channelId' where record ? 'results'
  ) as named
$$`,
  `create function refuse_strange_run() returns trigger language plpgsql set search_path = public, pg_catalog as $$
declare
  run record;
begin
  if new.state = 'void' then
    return new;
  end if;
  perform 1 from inspection_run where id = new.run_id and version = 1 for share;
  select string_id, channel_ids into run from inspection_run where id = new.run_id and known_until is null;
  if not found then
    return new; -- the foreign key speaks
  end if;
  if run.string_id <> new.string_id or not named_channels(to_jsonb(new)) <@ run.channel_ids then
    raise exception 'a run and its channels are of the string of what names them' using errcode = '23514', constraint = 'ck_of_run';
  end if;
  return new;
end $$`,
  `create function refuse_lost_channels() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.version = 1 or new.state = 'void' then
    return new;
  end if;
  perform 1 from inspection_run where id = new.id and version = 1 for update;
  if exists (
    select 1 from signal_mark m where m.run_id = new.id and m.known_until is null and m.state = 'active' and not m.channel_ids <@ new.channel_ids
    union all
    select 1 from reference_check c
     where c.run_id = new.id and c.known_until is null and c.state = 'active' and not named_channels(to_jsonb(c)) <@ new.channel_ids
  ) then
    raise exception 'marks and reference checks name channels that the run would lose'
      using errcode = '23514', constraint = 'ck_inspection_run_keeps_channels';
  end if;
  return new;
end $$`,
];

/** EM006: a string never declares less footage than where its marks and checks stand, as with the other placed records. */
const KEEP_GROUND = `
create function refuse_lost_inspected_ground() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.version > 1 and exists (
    select 1 from signal_mark where string_id = new.id and known_until is null and upper(span) > new.footage_limit_mm
    union all
    select 1 from reference_check where string_id = new.id and known_until is null and upper(span) > new.footage_limit_mm
  ) then
    raise exception 'records of this string lie beyond % mm', new.footage_limit_mm using errcode = 'EM006';
  end if;
  return new;
end $$`;

const TRIGGERS = [
  'create trigger keep_channels before insert on inspection_run for each row execute function refuse_strange_channels()',
  'create trigger keep_named_channels before insert on inspection_run for each row execute function refuse_lost_channels()',
  'create trigger keep_held before insert on channel for each row execute function refuse_held_channel()',
  'create trigger keep_of_run before insert on signal_mark for each row execute function refuse_strange_run()',
  'create trigger keep_of_run before insert on reference_check for each row execute function refuse_strange_run()',
  'create trigger keep_inspected_ground before insert on casing_string for each row execute function refuse_lost_inspected_ground()',
];

/** Channels of the line that inspect the pipe while it runs, their runs, what was marked in their signals, and their reference checks. */
export class Inspection1764061200018 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    const tables = [...CHANNEL, ...INSPECTION_RUN, ...SIGNAL_MARK, ...REFERENCE_CHECK];
    for (const statement of [...tables, ...KEEP_CHANNELS, KEEP_GROUND, ...TRIGGERS]) await runner.query(statement);
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
