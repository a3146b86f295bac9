import type { MigrationInterface, QueryRunner } from 'typeorm';
import { STANDING, versionedTable } from './versioned-table.js';

/** A record placed on the pipe: what was given of its place, and the footage derived from it. */
const PLACED = [
  'string_id uuid not null', 'given jsonb not null', 'span int8range not null', 'from_u_mm measured not null', 'to_u_mm measured not null',
  'predicted boolean not null', 'rests_on jsonb not null',
];

/** An index on the ids of a column that many rows leave empty. */
const onIds = (table: string, column: string): string => `index ix_${table}_${column} on ${table} (${column}) where ${column} is not null`;

const RULE = versionedTable({
  name: 'indication_rule',
  columns: [
    'string_id uuid not null', 'name text not null', 'revision text not null', 'channels jsonb not null', 'minimum_length_mm int4 not null',
    'combining_mm int4 not null', 'bridged_gap_mm int4 not null', 'joint_mm int4', 'excludes text[] not null', 'splice_margin_mm int4',
    'repeats text not null', 'requirement text', 'note text',
  ],
  references: { string_id: 'casing_string' },
  constraints: [
    "constraint ck_indication_rule_channels check (jsonb_typeof(channels) = 'array' and jsonb_array_length(channels) > 0)",
    'constraint ck_indication_rule_lengths check (least(minimum_length_mm, combining_mm, bridged_gap_mm, joint_mm, splice_margin_mm) >= 0)',
    "constraint ck_indication_rule_repeats check (repeats in ('all', 'latest'))",
  ],
  indexes: [
    `unique index uq_indication_rule_revision on indication_rule (string_id, upper(name), upper(revision)) where ${STANDING}`,
    'index ix_indication_rule_known_from on indication_rule (string_id, known_from)',
  ],
});

const DETECTION = versionedTable({
  name: 'detection',
  columns: [
    'string_id uuid not null', 'rule_id uuid not null', 'rule_version int4 not null', 'from_mm int4', 'to_mm int4', 'as_known_at timestamptz not null',
    'saw jsonb not null', 'not_placed jsonb not null', 'found jsonb not null', 'found_count int4 not null', 'opened_count int4 not null',
  ],
  references: { string_id: 'casing_string', rule_id: 'indication_rule' },
  constraints: [
    'constraint ck_detection_interval check (from_mm >= 0 and to_mm > coalesce(from_mm, 0))',
    'constraint ck_detection_counts check (jsonb_array_length(found) = found_count and opened_count between 0 and found_count)',
  ],
  indexes: ['index ix_detection_known_from on detection (string_id, known_from)', 'index ix_detection_rule_id on detection (rule_id)'],
});

const INDICATION = versionedTable({
  name: 'indication',
  columns: [
    ...PLACED, 'detection_id uuid', 'channel_ids uuid[] not null', 'method text', 'peak measured', 'peak_unit text', 'peak_is_bound boolean',
    'clock_deg measured', 'surface text', 'imperfection text', 'note text',
  ],
  references: { string_id: 'casing_string', detection_id: 'detection' },
  insideString: 'span',
  constraints: [
    'constraint ck_indication_span check (not isempty(span) and not lower_inf(span) and not upper_inf(span))',
    "constraint ck_indication_method check (method in ('VT', 'RT', 'UT', 'MT', 'PT', 'ET'))",
    'constraint ck_indication_manual check (num_nonnulls(detection_id, method) > 0)',
    'constraint ck_indication_detected check (detection_id is null or cardinality(channel_ids) > 0)',
    'constraint ck_indication_peak check (num_nonnulls(peak, peak_unit, peak_is_bound) in (0, 3))',
    'constraint ck_indication_clock check (clock_deg between 0 and 360)',
    "constraint ck_indication_surface check (surface in ('formed-inside', 'formed-outside', 'mid-wall'))",
  ],
  indexes: [
    'index ix_indication_span on indication using gist (string_id, span)',
    'index ix_indication_known_from on indication (string_id, known_from)',
    onIds('indication', 'detection_id'),
  ],
});

const EVALUATION = versionedTable({
  name: 'indication_evaluation',
  columns: [
    'string_id uuid not null', 'indication_id uuid not null', 'relevant boolean not null', 'cause text', 'cause_words text', 'method text', 'technique text',
    'instrument_id uuid', 'measured_depth_mm measured', 'measured_length_mm measured', 'remaining_wall_mm measured', 'limit_text text',
    'limit_min_wall_mm measured', 'limit_max_depth_mm measured', 'verdict text not null', 'level text not null', 'repair_id uuid', 'cut_out_id uuid',
    'examination_id uuid', 'time_left jsonb not null', 'note text',
  ],
  references: {
    string_id: 'casing_string', indication_id: 'indication', instrument_id: 'instrument', repair_id: 'repair', cut_out_id: 'cut_out', examination_id: 'examination',
  },
  constraints: [
    'constraint ck_indication_evaluation_relevant check (relevant = (cause is null))',
    "constraint ck_indication_evaluation_cause check (cause in ('splice', 'stop', 'noise', 'geometry', 'other') and (cause <> 'other' or cause_words is not null))",
    'constraint ck_indication_evaluation_cause_words check (cause_words is null or cause is not null)',
    "constraint ck_indication_evaluation_method check (method in ('VT', 'RT', 'UT', 'MT', 'PT', 'ET'))",
    'constraint ck_indication_evaluation_technique check (technique is null or method is not null)',
    'constraint ck_indication_evaluation_instrument check (instrument_id is null or num_nonnulls(measured_depth_mm, measured_length_mm, remaining_wall_mm) > 0)',
    'constraint ck_indication_evaluation_measured check (least(measured_depth_mm, measured_length_mm, remaining_wall_mm) >= 0)',
    'constraint ck_indication_evaluation_limit check ((limit_text is null) = (num_nonnulls(limit_min_wall_mm, limit_max_depth_mm) = 0))',
    "constraint ck_indication_evaluation_verdict check (verdict in ('accept', 'repair', 'cut-out', 'mark', 'hold', 're-inspect'))",
    "constraint ck_indication_evaluation_acts check (relevant or verdict not in ('repair', 'cut-out'))",
    "constraint ck_indication_evaluation_accepted check (verdict <> 'accept' or (coalesce(remaining_wall_mm >= limit_min_wall_mm, true) and coalesce(measured_depth_mm <= limit_max_depth_mm, true)))",
    "constraint ck_indication_evaluation_level check (level in ('1', '2', '3'))",
    "constraint ck_indication_evaluation_time_left check (jsonb_typeof(time_left) = 'object')",
  ],
  indexes: [
    'index ix_indication_evaluation_known_from on indication_evaluation (string_id, known_from)',
    'index ix_indication_evaluation_indication_id on indication_evaluation (indication_id)',
    onIds('indication_evaluation', 'instrument_id'), onIds('indication_evaluation', 'repair_id'), onIds('indication_evaluation', 'cut_out_id'),
    onIds('indication_evaluation', 'examination_id'),
  ],
});

/**
 * EM008: a rule that a detection used says for ever what it said. The first version is locked against a detection that names
 * it at the same moment: a foreign key holds that version.
 */
const FREEZE_RULE = `
create function refuse_frozen_indication_rule() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.version = 1 or new.state = 'void' then
    return new;
  end if;
  perform 1 from indication_rule where id = new.id and version = 1 for update;
  if exists (select 1 from detection where rule_id = new.id) then
    raise exception 'revision % of indication rule % is in use', new.revision, new.name using errcode = 'EM008';
  end if;
  return new;
end $$`;

/**
 * Lists of ids have no foreign keys: what these would see to is seen to here. Who names a channel shares the lock of its first
 * version, and who takes it away holds it alone, so that neither is decided on what the other changes.
 */
const KEEP_CHANNELS = [
  `create function refuse_strange_rule_channels() returns trigger language plpgsql set search_path = public, pg_catalog as $$
declare
  named uuid[];
begin
  if new.state = 'void' then
    return new;
  end if;
  select array_agg((id #>> '{}')::uuid) into named from jsonb_path_query(new.channels, '$[*].channelId') as id;
  perform 1 from channel where id = any (named) and version = 1 for share;
  if exists (
    select 1 from unnest(named) as one (id)
     where not exists (select 1 from channel c where c.id = one.id and c.string_id = new.string_id and c.known_until is null and c.state = 'active')
  ) then
    raise exception 'the channels of a rule are of its string' using errcode = '23514', constraint = 'ck_indication_rule_own_channels';
  end if;
  return new;
end $$`,
  // EM007, as where a key holds a record.
  `create function refuse_channel_held_by_rule() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.version = 1 or new.state <> 'void' then
    return new;
  end if;
  perform 1 from channel where id = new.id and version = 1 for update;
  if exists (
    select 1 from indication_rule where channels @> jsonb_build_array(jsonb_build_object('channelId', new.id)) and known_until is null and state = 'active'
  ) then
    raise exception 'a record of indication_rule still rests on it' using errcode = 'EM007';
  end if;
  return new;
end $$`,
];

/** What a detection found, place and peak of an indication that it opened, and what an evaluation is of with the time that was left, stay. */
const KEEP = (table: string, columns: readonly string[], when: string): string => `
create function refuse_changed_${table}() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.version > 1 and exists (
    select 1 from ${table} o where o.id = new.id and o.version = new.version - 1 and ${when}
      and (${columns.map((column) => `o.${column}`).join(', ')}) is distinct from (${columns.map((column) => `new.${column}`).join(', ')})
  ) then
    raise exception 'a record of ${table} keeps what it rests on' using errcode = '23514', constraint = 'ck_${table}_stays';
  end if;
  return new;
end $$`;

const KEPT = [
  KEEP('detection', ['rule_id', 'rule_version', 'from_mm', 'to_mm', 'as_known_at', 'saw', 'not_placed', 'found', 'found_count', 'opened_count'], 'true'),
  KEEP('indication', ['detection_id', 'given', 'channel_ids', 'method', 'peak', 'peak_unit', 'peak_is_bound'], '(o.detection_id is not null or new.detection_id is not null)'),
  KEEP('indication_evaluation', ['indication_id', 'time_left'], 'true'),
];

/** EM006: a string never declares less footage than where an indication stands, as with the other placed records. */
const KEEP_GROUND = `
create function refuse_lost_indicated_ground() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.version > 1 and exists (
    select 1 from indication where string_id = new.id and known_until is null and upper(span) > new.footage_limit_mm
  ) then
    raise exception 'records of this string lie beyond % mm', new.footage_limit_mm using errcode = 'EM006';
  end if;
  return new;
end $$`;

const TRIGGERS = [
  'create trigger keep_frozen before insert on indication_rule for each row execute function refuse_frozen_indication_rule()',
  'create trigger keep_channels before insert on indication_rule for each row execute function refuse_strange_rule_channels()',
  'create trigger keep_rules before insert on channel for each row execute function refuse_channel_held_by_rule()',
  'create trigger keep_content before insert on detection for each row execute function refuse_changed_detection()',
  'create trigger keep_detected before insert on indication for each row execute function refuse_changed_indication()',
  'create trigger keep_decision before insert on indication_evaluation for each row execute function refuse_changed_indication_evaluation()',
  'create trigger keep_indicated_ground before insert on casing_string for each row execute function refuse_lost_indicated_ground()',
];

/** What makes an indication, what was found by it, and what people made of that. */
export class Indications1764061200020 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    const statements = [...RULE, ...DETECTION, ...INDICATION, ...EVALUATION, FREEZE_RULE, ...KEEP_CHANNELS, ...KEPT, KEEP_GROUND, ...TRIGGERS];
    for (const statement of statements) await runner.query(statement);
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
