import type { MigrationInterface, QueryRunner } from 'typeorm';

/** What was sent, in parts; of every part its sum, so that the same part sent again is known, and another one under its number refused. */
const UPLOADS = [
  `create table signal_upload (
     id uuid constraint pk_signal_upload primary key, one int4 generated always as (1) stored, string_id uuid not null, run_id uuid not null,
     position_column text not null, position text not null, decimals int2 not null, columns jsonb not null, digest text not null,
     known_from timestamptz not null, keyed_by uuid not null, device_id uuid, request_id text not null,
     constraint fk_signal_upload_string_id foreign key (string_id, one) references casing_string (id, version),
     constraint fk_signal_upload_run_id foreign key (run_id, one) references inspection_run (id, version),
     constraint fk_signal_upload_keyed_by foreign key (keyed_by, one) references person (id, version),
     constraint ck_signal_upload_position check (position in ('counter', 'time') and decimals between 0 and 6))`,
  'create index ix_signal_upload_string_id on signal_upload (string_id)',
  'create index ix_signal_upload_run_id on signal_upload (run_id)',
  `create table signal_upload_end (
     upload_id uuid constraint pk_signal_upload_end primary key constraint fk_signal_upload_end_upload_id references signal_upload,
     part_count int4 not null, known_from timestamptz not null, keyed_by uuid not null, device_id uuid, request_id text not null,
     constraint ck_signal_upload_end_parts check (part_count >= 1))`,
  `create table signal_part (
     upload_id uuid not null constraint fk_signal_part_upload_id references signal_upload, part_no int4 not null,
     sha256 text not null, size_bytes int4 not null, samples int4 not null, narrowed int4 not null, direction text not null,
     from_us int8 not null, to_us int8 not null, known_from timestamptz not null, keyed_by uuid not null, device_id uuid, request_id text not null,
     constraint pk_signal_part primary key (upload_id, part_no),
     constraint ck_signal_part_no check (part_no between 1 and 1000000),
     constraint ck_signal_part_sha256 check (sha256 ~ '^[0-9a-f]{64}$'),
     constraint ck_signal_part_samples check (samples >= 1 and narrowed >= 0 and size_bytes >= 1),
     constraint ck_signal_part_direction check (direction in ('forward', 'backward')),
     constraint ck_signal_part_time check (from_us <= to_us))`,
  `create function guard_signal_write() returns trigger language plpgsql set search_path = public, pg_catalog as $$
   begin
     if coalesce(current_setting('app.request', true), '') = ''
        or coalesce(current_setting('app.actor', true), '') <> new.keyed_by::text then
       raise exception 'a write to % needs its actor and request', tg_table_name using errcode = 'EM001';
     end if;
     return new;
   end $$`,
  // EM014: nothing comes to an upload that has ended, and none ends while a part is missing.
  `create function guard_signal_part() returns trigger language plpgsql set search_path = public, pg_catalog as $$
   begin
     perform pg_advisory_xact_lock_shared(hashtextextended(new.upload_id::text, 0));
     if exists (select 1 from signal_upload_end where upload_id = new.upload_id) then
       raise exception 'the upload has ended' using errcode = 'EM014';
     end if;
     return new;
   end $$`,
  `create function guard_signal_upload_end() returns trigger language plpgsql set search_path = public, pg_catalog as $$
   declare
     parts int4;
     greatest_no int4;
   begin
     -- Alone with the upload: no part comes in between.
     perform pg_advisory_xact_lock(hashtextextended(new.upload_id::text, 0));
     select count(*), coalesce(max(part_no), 0) into parts, greatest_no from signal_part where upload_id = new.upload_id;
     if parts <> new.part_count or greatest_no <> new.part_count then
       raise exception 'the upload has % parts up to number %, not %', parts, greatest_no, new.part_count using errcode = 'EM014';
     end if;
     return new;
   end $$`,
  'create trigger in_time before insert on signal_part for each row execute function guard_signal_part()',
  'create trigger whole before insert on signal_upload_end for each row execute function guard_signal_upload_end()',
  ...['signal_upload', 'signal_upload_end', 'signal_part'].flatMap((table) => [
    `create trigger by_whom before insert on ${table} for each row execute function guard_signal_write()`,
    `create trigger keep_row before update or delete on ${table} for each row execute function refuse_change()`,
    `create trigger keep_table before truncate on ${table} for each statement execute function refuse_change()`,
    `grant select, insert on ${table} to everymetre_app`,
  ]),
];

/**
 * Samples and the summaries above them: the one table that grows without bound. Nothing refers to it by foreign key and it
 * refers to nothing, so that it can be distributed by `string_id`; level 0 holds blocks by their number, the levels above
 * pages of cells by the number of their first cell. Bodies are packed already: the server shall not try again.
 */
const BLOCKS = [
  `create table signal_block (
     string_id uuid not null, channel_id uuid not null, level int2 not null, block_no int8 not null,
     run_id uuid not null, upload_id uuid not null, part_no int4 not null, known_from timestamptz not null,
     items int4 not null, first_position int8 not null, last_position int8 not null, from_us int8 not null, to_us int8 not null,
     unread int4 not null, body bytea not null,
     constraint pk_signal_block primary key (string_id, channel_id, level, block_no),
     constraint ck_signal_block_level check (level between 0 and 20 and block_no >= 0),
     constraint ck_signal_block_items check (items between 1 and 4096 and unread between 0 and items),
     constraint ck_signal_block_time check (from_us <= to_us))`,
  'alter table signal_block alter column body set storage external',
  `create table signal_detachment (
     string_id uuid not null, known_from timestamptz not null, file_name text not null, sha256 text not null, block_rows int8 not null,
     attached_again timestamptz,
     constraint pk_signal_detachment primary key (string_id, known_from),
     constraint ck_signal_detachment_sha256 check (sha256 ~ '^[0-9a-f]{64}$'))`,
  'create unique index uq_signal_detachment_standing on signal_detachment (string_id) where attached_again is null',
  'grant select on signal_detachment to everymetre_app',
  // The rows of a whole string may leave for a file, by the owner of the database, who says so in the transaction; nothing else.
  `create function guard_signal_block() returns trigger language plpgsql set search_path = public, pg_catalog as $$
   begin
     if tg_op = 'DELETE' and coalesce(current_setting('app.detaching', true), '') = old.string_id::text then
       return old;
     end if;
     raise exception '% is only added to', tg_table_name using errcode = 'EM005';
   end $$`,
  'create trigger keep_row before update or delete on signal_block for each row execute function guard_signal_block()',
  'create trigger keep_table before truncate on signal_block for each statement execute function refuse_change()',
  'grant select, insert on signal_block to everymetre_app',
];

/**
 * EM007, as before, but also for what is kept in tables without versions: as long as a row is there it rests on the record. Who
 * did or keyed something stays free.
 */
const REFUSE_HELD = `
create or replace function refuse_held(held regclass, held_id uuid) returns void language plpgsql
  set search_path = public, pg_catalog as $$
declare
  link record;
  stands boolean;
begin
  for link in
    select c.conrelid::regclass as holder, a.attname as by_column,
           exists (select 1 from pg_attribute v where v.attrelid = c.conrelid and v.attname = 'known_until') as has_versions
      from pg_constraint c join pg_attribute a on a.attrelid = c.conrelid and a.attnum = c.conkey[1]
     where c.contype = 'f' and c.confrelid = held and a.attname not in ('done_by', 'keyed_by')
  loop
    execute format(
      'select exists (select 1 from %s where %I = $1 %s)',
      link.holder, link.by_column, case when link.has_versions then 'and known_until is null and state = ''active''' else '' end) into stands using held_id;
    if stands then
      raise exception '% still rests on it', case when link.has_versions then 'a record of ' else '' end || link.holder using errcode = 'EM007';
    end if;
  end loop;
end $$`;

/**
 * Channels are named in lists, which have no foreign keys: a run keeps those that uploads of it have columns for, or their samples
 * would be of no run, and the channel could be made void. An upload is opened (40001: tried again) by the channels that the run has now.
 */
const KEEP_CHANNELS = [
  `create function upload_channels(columns jsonb) returns uuid[] language sql immutable set search_path = public, pg_catalog as $$
     select coalesce(array_agg((entry ->> 'channelId')::uuid), '{}') from jsonb_array_elements(columns) as entry
   $$`,
  `create function refuse_lost_upload_channels() returns trigger language plpgsql set search_path = public, pg_catalog as $$
   begin
     if new.version = 1 or new.state = 'void' then
       return new;
     end if;
     perform 1 from inspection_run where id = new.id and version = 1 for update;
     if exists (select 1 from signal_upload u where u.run_id = new.id and not upload_channels(u.columns) <@ new.channel_ids) then
       raise exception 'uploads have columns for channels that the run would lose' using errcode = '23514', constraint = 'ck_inspection_run_keeps_channels';
     end if;
     return new;
   end $$`,
  `create function refuse_strange_upload() returns trigger language plpgsql set search_path = public, pg_catalog as $$
   begin
     perform 1 from inspection_run where id = new.run_id and version = 1 for share;
     if exists (select 1 from inspection_run where id = new.run_id and known_until is null and not upload_channels(new.columns) <@ channel_ids) then
       raise exception 'the channels of the run changed meanwhile' using errcode = '40001';
     end if;
     return new;
   end $$`,
  'create trigger keep_uploaded_channels before insert on inspection_run for each row execute function refuse_lost_upload_channels()',
  'create trigger of_run before insert on signal_upload for each row execute function refuse_strange_upload()',
];

/** Uploads of signals in parts, and the blocks that they become. */
export class Signals1764061200019 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    for (const statement of [...UPLOADS, ...BLOCKS, ...KEEP_CHANNELS, REFUSE_HELD]) await runner.query(statement);
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
