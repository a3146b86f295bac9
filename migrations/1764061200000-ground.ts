import type { MigrationInterface, QueryRunner } from 'typeorm';

const ROLE = `
do $$ begin
  create role everymetre_app nologin;
exception when duplicate_object or unique_violation then null; -- roles belong to the whole server
end $$`;

/**
 * History is append-only: an open version may be closed once, and that is all that may ever change.
 * EM001 no actor · EM002 version out of order · EM003 moved to another string · EM004 after void · EM005 rewriting ·
 * EM007 withdrawn while others rest on it.
 */
const GUARD_VERSION = `
create function guard_version() returns trigger language plpgsql set search_path = public, pg_catalog as $$
declare
  previous jsonb;
begin
  if tg_op = 'UPDATE' then
    if old.known_until is null and new.known_until is not null
       and to_jsonb(old) - array['known_until', 'one'] = to_jsonb(new) - array['known_until', 'one'] then
       -- 'one' is generated, and not yet computed in the new row here
      return new;
    end if;
    raise exception 'a version of % is never changed', tg_table_name using errcode = 'EM005';
  elsif tg_op <> 'INSERT' then
    raise exception '% keeps every version: no %', tg_table_name, lower(tg_op) using errcode = 'EM005';
  end if;
  if coalesce(current_setting('app.request', true), '') = ''
     or coalesce(current_setting('app.actor', true), '') <> new.keyed_by::text then
    raise exception 'a write to % needs its actor and request', tg_table_name using errcode = 'EM001';
  end if;
  if new.known_until is not null then
    raise exception 'a new version of % is open', tg_table_name using errcode = 'EM002';
  end if;
  if new.version > 1 then
    execute format('select to_jsonb(t) from public.%I t where id = $1 and version = $2', tg_table_name)
      into previous using new.id, new.version - 1;
    if previous is null or (previous ->> 'known_until')::timestamptz is distinct from new.known_from then
      raise exception 'version % of % does not follow its predecessor', new.version, tg_table_name
        using errcode = 'EM002';
    end if;
    if previous ->> 'string_id' is distinct from to_jsonb(new) ->> 'string_id' then
      raise exception 'a record of % stays with its string', tg_table_name using errcode = 'EM003';
    end if;
    if previous ->> 'state' = 'void' then
      raise exception 'a void record of % is not amended', tg_table_name using errcode = 'EM004';
    end if;
    if new.state = 'void' then perform refuse_held(tg_relid, new.id); end if;
  end if;
  -- When the record was first entered stays with all its versions: an amendment makes no entry late.
  new.entered_at := coalesce((previous ->> 'entered_at')::timestamptz, new.known_from);
  return new;
end $$`;

/** EM007: a record that standing records refer to is not withdrawn before them. Who did or keyed something stays free. */
const REFUSE_HELD = `
create function refuse_held(held regclass, held_id uuid) returns void language plpgsql
  set search_path = public, pg_catalog as $$
declare
  link record;
  stands boolean;
begin
  for link in
    select c.conrelid::regclass as holder, a.attname as by_column
      from pg_constraint c join pg_attribute a on a.attrelid = c.conrelid and a.attnum = c.conkey[1]
     where c.contype = 'f' and c.confrelid = held and a.attname not in ('done_by', 'keyed_by')
  loop
    execute format(
      'select exists (select 1 from %s where %I = $1 and known_until is null and state = ''active'')',
      link.holder, link.by_column) into stands using held_id;
    if stands then
      raise exception 'a record of % still rests on it', link.holder using errcode = 'EM007';
    end if;
  end loop;
end $$`;

/**
 * EM006: outside the footage its string declares. One function for each shape of place, since reading a column by its
 * name costs more than all the rest of an insert.
 */
const refuseOutsideString = (column: 'span' | 'extent'): string => `
create function refuse_${column}_outside_string() returns trigger language plpgsql set search_path = public, pg_catalog as $$
declare
  ground int8range;
begin
  if isempty(new.${column}) then
    return new;
  end if;
  select int8range(0, footage_limit_mm) into ground
    from casing_string where id = new.string_id and known_until is null;
  if ground is null or not new.${column} <@ ground then
    raise exception '% % lies outside its string %', tg_table_name, new.${column}, ground using errcode = 'EM006';
  end if;
  return new;
end $$`;

/** Roles, guards of the history, and what every write needs. */
export class Ground1764061200000 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    await runner.query('create extension if not exists btree_gist');
    await runner.query(ROLE);
    await runner.query('grant usage on schema public to everymetre_app');
    // The service tells in its readiness which migrations it found.
    await runner.query('grant select on migrations to everymetre_app');
    // A measured or computed number: any digits, but a number.
    await runner.query(
      `create domain measured as numeric
         check (value <> 'NaN'::numeric and value < 'Infinity'::numeric and value > '-Infinity'::numeric)`,
    );
    await runner.query(REFUSE_HELD);
    await runner.query(GUARD_VERSION);
    await runner.query(refuseOutsideString('span'));
    await runner.query(refuseOutsideString('extent'));
    // The last number given out; its row is locked until the numbered record commits, so that no number is lost.
    await runner.query(
      `create table number_series (name text constraint pk_number_series primary key, last_number int8 not null)`,
    );
    await runner.query('grant select, insert, update (last_number) on number_series to everymetre_app');
    // One row a write that carried an idempotency key, in the transaction of its effect: the first answer again.
    await runner.query(
      `create table request_key (
         actor_id uuid not null, key text not null, fingerprint text not null,
         status int4, body json, made_at timestamptz not null default clock_timestamp(),
         constraint pk_request_key primary key (actor_id, key))`,
    );
    await runner.query('create index ix_request_key_made_at on request_key (made_at)');
    await runner.query('grant select, insert, update (status, body) on request_key to everymetre_app');
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
