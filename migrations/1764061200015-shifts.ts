import type { MigrationInterface, QueryRunner } from 'typeorm';
import { STANDING, versionedTable } from './versioned-table.js';

const SHIFT = versionedTable({
  name: 'shift',
  columns: ['string_id uuid not null', 'name text not null', 'until timestamptz', 'crew jsonb not null', 'weather text', 'note text'],
  references: { string_id: 'casing_string' },
  constraints: [
    'constraint ck_shift_until check (until > observed_at)',
    "constraint ck_shift_crew check (jsonb_typeof(crew) = 'array' and crew <> '[]'::jsonb)",
  ],
  indexes: ['index ix_shift_crew on shift using gin (crew jsonb_path_ops)'],
});

const SHIFT_EVENT = versionedTable({
  name: 'shift_event',
  columns: ['string_id uuid not null', 'shift_id uuid not null', 'category text not null', 'text text not null', 'about jsonb'],
  references: { string_id: 'casing_string', shift_id: 'shift' },
  constraints: ["constraint ck_shift_event_category check (category in ('stop', 'visitor', 'safety', 'weather', 'equipment', 'material', 'other'))"],
  indexes: ['index ix_shift_event_shift_id on shift_event (shift_id)'],
});

const HANDOVER = versionedTable({
  name: 'handover',
  columns: ['string_id uuid not null', 'shift_id uuid not null', 'next_shift_id uuid', 'items jsonb not null', 'note text'],
  references: { string_id: 'casing_string', shift_id: 'shift', next_shift_id: 'shift' },
  constraints: ['constraint ck_handover_next check (next_shift_id <> shift_id)'],
  indexes: [
    'index ix_handover_shift_id on handover (shift_id)',
    'index ix_handover_next_shift_id on handover (next_shift_id) where next_shift_id is not null',
  ],
});

const HANDOVER_ACCEPTANCE = versionedTable({
  name: 'handover_acceptance',
  columns: ['string_id uuid not null', 'handover_id uuid not null', 'handover_version int4 not null', 'items jsonb not null', 'note text'],
  references: { string_id: 'casing_string', handover_id: 'handover' },
  constraints: ['constraint ck_handover_acceptance_of check (handover_version >= 1)'],
  indexes: [
    `unique index uq_handover_acceptance_handover_id on handover_acceptance (handover_id) where ${STANDING}`,
    'index ix_handover_acceptance_handover_id on handover_acceptance (handover_id)',
  ],
});

/**
 * EM012: what was accepted says for ever what it said. It speaks before the guard of versions (triggers go by their names)
 * and locks the first version, which an acceptance made at the same moment shares: neither is decided on what the other changes.
 */
const KEEP_ACCEPTED = `
create function refuse_accepted_handover() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.version = 1 then
    return new;
  end if;
  perform 1 from handover where id = new.id and version = 1 for update;
  if new.state <> 'void' and exists (select 1 from handover_acceptance where handover_id = new.id) then
    raise exception 'handover % was accepted', new.id using errcode = 'EM012', constraint = 'accepted_stays';
  end if;
  return new;
end $$`;

/** EM012 too: a handover is accepted by another person than who gave it, in the version that was read, while it stands. */
const ACCEPT_BY_ANOTHER = `
create function refuse_own_handover() returns trigger language plpgsql set search_path = public, pg_catalog as $$
declare
  given record;
begin
  if new.state = 'void' then
    return new;
  end if;
  perform 1 from handover where id = new.handover_id and version = 1 for share;
  select version, state, done_by into given from handover where id = new.handover_id and known_until is null;
  if not found then
    return new; -- the foreign key speaks
  end if;
  if given.done_by = new.done_by then
    raise exception 'handover % was given by the same person', new.handover_id using errcode = 'EM012', constraint = 'accepted_by_another';
  end if;
  if given.version <> new.handover_version or given.state = 'void' then
    raise exception 'version % of handover % does not stand', new.handover_version, new.handover_id
      using errcode = 'EM012', constraint = 'accepted_as_given';
  end if;
  return new;
end $$`;

/** What a string's records said since an instant is found by when it became known. */
const ON_A_STRING = [
  'line_setup', 'counter_period', 'counter_reading', 'hang_off', 'shoe_tie', 'coil_segment', 'splice', 'cut_out', 'rejoin', 'weld', 'splice_step',
  'seam_event', 'test_sample', 'destructive_test', 'inspection', 'nonconformance', 'shift', 'shift_event', 'handover', 'handover_acceptance',
];

/** Shifts, what happened in them, and what one hands over to the next. */
export class Shifts1764061200015 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    for (const statement of [...SHIFT, ...SHIFT_EVENT, ...HANDOVER, ...HANDOVER_ACCEPTANCE, KEEP_ACCEPTED, ACCEPT_BY_ANOTHER]) await runner.query(statement);
    await runner.query('create trigger accepted_stays before insert on handover for each row execute function refuse_accepted_handover()');
    await runner.query('create trigger accepted_by_another before insert on handover_acceptance for each row execute function refuse_own_handover()');
    for (const table of ON_A_STRING) await runner.query(`create index ix_${table}_known_from on ${table} (string_id, known_from)`);
    // Inspections are entered by the thousand: those of one shift, and the few that were not accepted, are found by themselves.
    await runner.query('create index ix_inspection_observed_at on inspection (string_id, observed_at)');
    await runner.query("create index ix_inspection_not_accepted on inspection (string_id) where verdict <> 'accepted'");
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
