import type { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * A test follows an earlier one of its kind and string, whichever of the two is written last: so no chain of retests goes round
 * in a circle. Both lock the first version of the followed test, so that neither misses the other.
 */
const KEEP_CHAIN = [
  `create function refuse_broken_retest() returns trigger language plpgsql set search_path = public, pg_catalog as $$
declare
  followed record;
begin
  if new.state = 'void' or new.follows_test_id is null then
    return new;
  end if;
  perform 1 from destructive_test where id = new.follows_test_id and version = 1 for key share;
  select string_id, kind, observed_at into followed from destructive_test where id = new.follows_test_id and known_until is null;
  if not found then
    return new; -- the foreign key speaks
  end if;
  if new.string_id <> followed.string_id or new.kind <> followed.kind or new.observed_at <= followed.observed_at then
    raise exception 'a test follows an earlier one of its kind and string'
      using errcode = '23514', constraint = 'ck_destructive_test_after_followed';
  end if;
  return new;
end $$`,
  `create function refuse_test_after_followers() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.version = 1 or new.state = 'void' then
    return new;
  end if;
  perform 1 from destructive_test where id = new.id and version = 1 for update;
  if exists (
    select 1 from destructive_test
     where follows_test_id = new.id and known_until is null and state = 'active'
       and (string_id <> new.string_id or kind <> new.kind or observed_at <= new.observed_at)
  ) then
    raise exception 'a test stays earlier than what follows it, and of its kind'
      using errcode = '23514', constraint = 'ck_destructive_test_before_followers';
  end if;
  return new;
end $$`,
];

/** EM012: what was said to one handover is never said to another. */
const KEEP_HANDOVER = `
create function refuse_moved_acceptance() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if exists (select 1 from handover_acceptance where id = new.id and version = 1 and handover_id <> new.handover_id) then
    raise exception 'an acceptance stays with its handover' using errcode = 'EM012', constraint = 'acceptance_stays';
  end if;
  return new;
end $$`;

const TRIGGERS = [
  'create trigger keep_after_followed before insert on destructive_test for each row execute function refuse_broken_retest()',
  'create trigger keep_before_followers before insert on destructive_test for each row execute function refuse_test_after_followers()',
  'create trigger acceptance_stays before insert on handover_acceptance for each row execute function refuse_moved_acceptance()',
];

/** Chains of retests that hold together, and acceptances that stay with their handover. */
export class KeptChains1764061200017 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    for (const statement of [...KEEP_CHAIN, KEEP_HANDOVER, ...TRIGGERS]) await runner.query(statement);
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
