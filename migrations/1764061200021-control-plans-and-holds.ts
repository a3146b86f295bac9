import type { MigrationInterface, QueryRunner } from 'typeorm';
import { STANDING, versionedTable } from './versioned-table.js';

const STRING = { string_id: 'casing_string' };

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

const TRIGGERS = [
  'create trigger keep_channels before insert on control_plan for each row execute function refuse_strange_plan_channels()',
  'create trigger keep_plans before insert on channel for each row execute function refuse_channel_held_by_plan()',
];

/** Which evidence the pipe of a string needs. */
export class ControlPlansAndHolds1764061200021 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    for (const statement of [...CONTROL_PLAN, ...KEEP_CHANNELS, ...TRIGGERS]) await runner.query(statement);
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
