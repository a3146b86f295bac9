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

const onGround = (table: string): string => `index ix_${table}_span on ${table} using gist (string_id, span)`;

const knownFrom = (table: string): string => `index ix_${table}_known_from on ${table} (string_id, known_from)`;

const CONTROL_PLAN = versionedTable({
  name: 'control_plan',
  columns: ['string_id uuid not null', 'document text not null', 'revision text not null', 'from_mm int4 not null', 'items jsonb not null', 'note text'],
  references: STRING,
  constraints: [
    'constraint ck_control_plan_from check (from_mm >= 0)',
    "constraint ck_control_plan_items check (jsonb_typeof(items) = 'array' and jsonb_array_length(items) between 1 and 100)",
  ],
  indexes: [
    // Of two from one footage on nobody could say which pipe is judged by.
    `unique index uq_control_plan_from_mm on control_plan (string_id, from_mm) where ${STANDING}`,
    knownFrom('control_plan'),
  ],
});

const ATTENDANCE = versionedTable({
  name: 'attendance',
  columns: [...PLACED, 'item_code text not null', 'outcome text not null', 'attended_by jsonb not null', 'note text'],
  references: STRING,
  insideString: 'span',
  constraints: [
    notEmpty('attendance'),
    "constraint ck_attendance_outcome check (outcome in ('accepted', 'not-accepted'))",
    "constraint ck_attendance_note check (outcome = 'accepted' or note is not null)",
    "constraint ck_attendance_attended_by check (jsonb_typeof(attended_by) = 'array' and jsonb_array_length(attended_by) between 1 and 10)",
  ],
  indexes: [onGround('attendance'), knownFrom('attendance')],
});

const EVIDENCE_WAIVER = versionedTable({
  name: 'evidence_waiver',
  columns: [
    ...PLACED, 'item_code text not null', 'basis text not null', 'agreed_by text not null', 'agreement text not null', 'grounds text not null', 'nonconformance_id uuid',
  ],
  references: { ...STRING, nonconformance_id: 'nonconformance' },
  insideString: 'span',
  constraints: [
    notEmpty('evidence_waiver'),
    "constraint ck_evidence_waiver_basis check (basis in ('waiver', 'concession'))",
    "constraint ck_evidence_waiver_of check ((basis = 'concession') = (nonconformance_id is not null))",
  ],
  indexes: [
    onGround('evidence_waiver'), knownFrom('evidence_waiver'),
    'index ix_evidence_waiver_nonconformance_id on evidence_waiver (nonconformance_id) where nonconformance_id is not null',
  ],
});

const HOLD = versionedTable({
  name: 'hold',
  columns: [
    'string_id uuid not null', 'cause text not null', 'given jsonb not null', 'extent int8multirange not null', 'rests_on jsonb not null',
    'coil_ids uuid[] not null', 'splice_ids uuid[] not null',
  ],
  references: STRING,
  insideString: 'extent',
  constraints: [
    'constraint ck_hold_of check (jsonb_array_length(given) + cardinality(coil_ids) + cardinality(splice_ids) > 0)',
    'constraint ck_hold_extent check (isempty(extent) = (jsonb_array_length(given) = 0))',
  ],
  indexes: [
    'index ix_hold_extent on hold using gist (extent)', 'index ix_hold_coil_ids on hold using gin (coil_ids)', 'index ix_hold_splice_ids on hold using gin (splice_ids)',
    knownFrom('hold'),
  ],
});

const HOLD_LIFTING = versionedTable({
  name: 'hold_lifting',
  columns: ['string_id uuid not null', 'hold_id uuid not null', 'grounds text not null', 'evidence text not null', 'own_hold_because text'],
  references: { ...STRING, hold_id: 'hold' },
  indexes: [
    `unique index uq_hold_lifting_hold_id on hold_lifting (hold_id) where ${STANDING}`, 'index ix_hold_lifting_hold_id on hold_lifting (hold_id)', knownFrom('hold_lifting'),
  ],
});

/**
 * Lists of ids have no foreign keys: what these would see to is seen to here. Who names a channel shares the lock of its first
 * version, and who takes it away holds it alone, so that neither is decided on what the other changes.
 */
const KEEP_CHANNELS = [
  `create function refuse_strange_plan_channels() returns trigger language plpgsql set search_path = public, pg_catalog as $$
declare
  named uuid[];
begin
  if new.state = 'void' then
    return new;
  end if;
  select array_agg((id #>> '{}')::uuid) into named from jsonb_path_query(new.items, '$[*].channelId ? (@ != null)') as id;
  perform 1 from channel where id = any (named) and version = 1 for share;
  if exists (
    select 1 from unnest(named) as one (id)
     where not exists (select 1 from channel c where c.id = one.id and c.string_id = new.string_id and c.known_until is null and c.state = 'active')
  ) then
    raise exception 'the channels of a control plan are of its string' using errcode = '23514', constraint = 'ck_control_plan_own_channels';
  end if;
  return new;
end $$`,
  // EM007, as where a key holds a record.
  `create function refuse_channel_held_by_plan() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.version = 1 or new.state <> 'void' then
    return new;
  end if;
  perform 1 from channel where id = new.id and version = 1 for update;
  if exists (
    select 1 from control_plan where items @> jsonb_build_array(jsonb_build_object('channelId', new.id)) and known_until is null and state = 'active'
  ) then
    raise exception 'a record of control_plan still rests on it' using errcode = 'EM007';
  end if;
  return new;
end $$`,
];

/**
 * What names an item of a control plan names one that stands when it is first named; the trigger's argument is what the item
 * has to say beside its code. A later plan takes nothing from what was attended or agreed.
 */
const KEEP_ITEM = `
create function refuse_strange_item() returns trigger language plpgsql set search_path = public, pg_catalog as $$
declare
  stays boolean;
begin
  if new.state = 'void' then
    return new;
  end if;
  execute format('select exists (select 1 from %I where id = $1 and version = $2 - 1 and item_code = $3)', tg_table_name)
    into stays using new.id, new.version, new.item_code;
  if not stays and not exists (
    select 1 from control_plan
     where string_id = new.string_id and known_until is null and state = 'active'
       and items @> jsonb_build_array(jsonb_build_object('code', new.item_code) || tg_argv[0]::jsonb)
  ) then
    raise exception 'no standing control plan of the string has the item %', new.item_code
      using errcode = '23514', constraint = 'ck_' || tg_table_name || '_item';
  end if;
  return new;
end $$`;

/**
 * A concession rests on a nonconformance of its string that is used as it is, whichever of the two is written last. Both lock
 * the first version of the nonconformance, so that neither misses the other.
 */
const KEEP_CONCESSION = [
  `create function refuse_unconceded_waiver() returns trigger language plpgsql set search_path = public, pg_catalog as $$
declare
  conceded record;
begin
  if new.state = 'void' or new.nonconformance_id is null then
    return new;
  end if;
  perform 1 from nonconformance where id = new.nonconformance_id and version = 1 for share;
  select string_id, state, disposition ->> 'kind' as kind into conceded from nonconformance where id = new.nonconformance_id and known_until is null;
  if not found then
    return new; -- the foreign key speaks
  end if;
  if conceded.string_id <> new.string_id or conceded.state = 'void' or conceded.kind is distinct from 'use-as-is-under-concession' then
    raise exception 'a concession is of a nonconformance of its string that is used as it is'
      using errcode = '23514', constraint = 'ck_evidence_waiver_conceded';
  end if;
  return new;
end $$`,
  `create function refuse_lost_concession() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.version = 1 or (new.state <> 'void' and new.disposition ->> 'kind' is not distinct from 'use-as-is-under-concession') then
    return new;
  end if;
  perform 1 from nonconformance where id = new.id and version = 1 for update;
  if not exists (select 1 from evidence_waiver where nonconformance_id = new.id and known_until is null and state = 'active') then
    return new;
  end if;
  if new.state = 'void' then
    raise exception 'a record of evidence_waiver still rests on it' using errcode = 'EM007';
  end if;
  raise exception 'waivers of evidence rest on the concession' using errcode = '23514', constraint = 'ck_nonconformance_keeps_concession';
end $$`,
];

/** The coils and splices of a hold, as the channels of a plan: a hold of what is no more would hold nothing. */
const KEEP_HELD = [
  `create function refuse_strange_held() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.state = 'void' then
    return new;
  end if;
  perform 1 from coil where id = any (new.coil_ids) and version = 1 for share;
  perform 1 from splice where id = any (new.splice_ids) and version = 1 for share;
  if exists (
    select 1 from unnest(new.coil_ids) as named (id)
     where not exists (select 1 from coil c where c.id = named.id and c.known_until is null and c.state = 'active')
  ) then
    raise exception 'the coils of a hold stand' using errcode = '23514', constraint = 'ck_hold_coils';
  end if;
  if exists (
    select 1 from unnest(new.splice_ids) as named (id)
     where not exists (select 1 from splice s where s.id = named.id and s.string_id = new.string_id and s.known_until is null and s.state = 'active')
  ) then
    raise exception 'the splices of a hold stand, and are of its string' using errcode = '23514', constraint = 'ck_hold_splices';
  end if;
  return new;
end $$`,
  // EM007, as where a key holds a record.
  ...['coil', 'splice'].map((table) => `
create function refuse_held_${table}() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.version = 1 or new.state <> 'void' then
    return new;
  end if;
  perform 1 from ${table} where id = new.id and version = 1 for update;
  if exists (select 1 from hold where ${table}_ids @> array[new.id] and known_until is null and state = 'active') then
    raise exception 'a record of hold still rests on it' using errcode = 'EM007';
  end if;
  return new;
end $$`),
];

/**
 * A lifting is of a standing hold of its string, by another person unless it says why not, and stays with it; a hold that was
 * lifted keeps what it holds, but for footage that is derived again. Both lock the first version of the hold, so that neither
 * misses the other.
 */
const KEEP_LIFTED = [
  `create function refuse_strange_lifting() returns trigger language plpgsql set search_path = public, pg_catalog as $$
declare
  held record;
begin
  if exists (select 1 from hold_lifting where id = new.id and version = new.version - 1 and hold_id <> new.hold_id) then
    raise exception 'a lifting stays with its hold' using errcode = '23514', constraint = 'ck_hold_lifting_stays';
  end if;
  if new.state = 'void' then
    return new;
  end if;
  perform 1 from hold where id = new.hold_id and version = 1 for share;
  select string_id, state, done_by into held from hold where id = new.hold_id and known_until is null;
  if not found then
    return new; -- the foreign key speaks
  end if;
  if held.string_id <> new.string_id or held.state = 'void' then
    raise exception 'a lifting is of a standing hold of its string' using errcode = '23514', constraint = 'ck_hold_lifting_hold';
  end if;
  if held.done_by = new.done_by and new.own_hold_because is null then
    raise exception 'hold % was set by the same person', new.hold_id using errcode = '23514', constraint = 'ck_hold_lifting_by_another';
  end if;
  return new;
end $$`,
  `create function refuse_changed_lifted() returns trigger language plpgsql set search_path = public, pg_catalog as $$
declare
  lifted record;
begin
  if new.version = 1 then
    return new;
  end if;
  perform 1 from hold where id = new.id and version = 1 for update;
  select done_by, own_hold_because into lifted from hold_lifting where hold_id = new.id and known_until is null and state = 'active';
  if not found then
    return new;
  end if;
  if new.state = 'void' then
    raise exception 'a record of hold_lifting still rests on it' using errcode = 'EM007';
  end if;
  if lifted.done_by = new.done_by and lifted.own_hold_because is null then
    raise exception 'hold % was lifted by the same person', new.id using errcode = '23514', constraint = 'ck_hold_own_lifting';
  end if;
  if exists (
    select 1 from hold h where h.id = new.id and h.version = new.version - 1
       and (h.given, h.coil_ids, h.splice_ids) is distinct from (new.given, new.coil_ids, new.splice_ids)
  ) then
    raise exception 'a hold that was lifted keeps what it holds' using errcode = '23514', constraint = 'ck_hold_lifted';
  end if;
  return new;
end $$`,
];

/** EM006: a string never declares less footage than where such a record stands, as with the other placed records. */
const KEEP_GROUND = `
create function refuse_lost_judged_ground() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.version > 1 and exists (
    select 1 from attendance where string_id = new.id and known_until is null and upper(span) > new.footage_limit_mm
    union all
    select 1 from evidence_waiver where string_id = new.id and known_until is null and upper(span) > new.footage_limit_mm
    union all
    select 1 from hold where string_id = new.id and known_until is null and upper(extent) > new.footage_limit_mm
  ) then
    raise exception 'records of this string lie beyond % mm', new.footage_limit_mm using errcode = 'EM006';
  end if;
  return new;
end $$`;

const TRIGGERS = [
  'create trigger keep_channels before insert on control_plan for each row execute function refuse_strange_plan_channels()',
  'create trigger keep_plans before insert on channel for each row execute function refuse_channel_held_by_plan()',
  `create trigger keep_item before insert on attendance for each row execute function refuse_strange_item('{"demands": "point"}')`,
  "create trigger keep_item before insert on evidence_waiver for each row execute function refuse_strange_item('{}')",
  'create trigger keep_conceded before insert on evidence_waiver for each row execute function refuse_unconceded_waiver()',
  'create trigger keep_concession before insert on nonconformance for each row execute function refuse_lost_concession()',
  'create trigger keep_held before insert on hold for each row execute function refuse_strange_held()',
  'create trigger keep_lifted before insert on hold for each row execute function refuse_changed_lifted()',
  'create trigger keep_hold before insert on hold_lifting for each row execute function refuse_strange_lifting()',
  'create trigger keep_holds before insert on coil for each row execute function refuse_held_coil()',
  'create trigger keep_holds before insert on splice for each row execute function refuse_held_splice()',
  'create trigger keep_judged_ground before insert on casing_string for each row execute function refuse_lost_judged_ground()',
];

/** Which evidence the pipe of a string needs, the points that were kept, what was agreed not to be needed, and holds until they are lifted. */
export class ControlPlansAndHolds1764061200021 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    const tables = [...CONTROL_PLAN, ...ATTENDANCE, ...EVIDENCE_WAIVER, ...HOLD, ...HOLD_LIFTING];
    const statements = [...tables, ...KEEP_CHANNELS, KEEP_ITEM, ...KEEP_CONCESSION, ...KEEP_HELD, ...KEEP_LIFTED, KEEP_GROUND, ...TRIGGERS];
    for (const statement of statements) await runner.query(statement);
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
