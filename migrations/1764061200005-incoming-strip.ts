import type { MigrationInterface, QueryRunner } from 'typeorm';
import { STANDING, versionedTable } from './versioned-table.js';

const TABLES = [
  versionedTable({
    name: 'strip_specification',
    columns: [
      'number text not null', 'revision int4 not null', 'title text not null', 'effective_from date not null',
      'grade text not null', 'document_type text not null', 'requirements jsonb not null', 'own_tables jsonb not null',
      'rounding text not null', 'decision text not null', 'guard_factor measured not null', 'edge text',
      'surface text', 'test_frequency text', 'retest_rule text', 'note text',
    ],
    constraints: [
      'constraint ck_strip_specification_revision check (revision >= 1)',
      "constraint ck_strip_specification_type check (document_type in ('2.1', '2.2', '3.1', '3.2'))",
      "constraint ck_strip_specification_rounding check (rounding in ('absolute', 'rounding'))",
      `constraint ck_strip_specification_decision check
         (decision in ('simple-acceptance', 'guarded-acceptance', 'proof-of-conformity'))`,
      'constraint ck_strip_specification_guard check (guard_factor >= 0)',
    ],
    indexes: [`unique index uq_strip_specification_revision on strip_specification (upper(number), revision) where ${STANDING}`],
  }),
  versionedTable({
    name: 'strip_order',
    columns: [
      'number text not null', 'mill text not null', 'ordered_on date not null', 'specification_id uuid not null',
      'thickness_mm measured not null', 'width_mm measured not null', 'note text',
    ],
    references: { specification_id: 'strip_specification' },
    constraints: ['constraint ck_strip_order_size check (thickness_mm > 0 and width_mm > 0)'],
    indexes: [
      `unique index uq_strip_order_number on strip_order (upper(number)) where ${STANDING}`,
      'index ix_strip_order_specification_id on strip_order (specification_id) where known_until is null',
    ],
  }),
  versionedTable({
    name: 'certificate_transcription',
    columns: [
      'certificate_id uuid not null', 'keying int4 not null', 'order_number text', 'specification text',
      'packed_lines jsonb not null', 'coil_numbers text[] not null', 'heat_numbers text[] not null', 'note text',
      'file_sha256 text', 'file_line int4',
      'constraint fk_certificate_transcription_file_sha256 foreign key (file_sha256) references stored_file',
    ],
    references: { certificate_id: 'certificate' },
    constraints: [
      'constraint ck_certificate_transcription_keying check (keying in (1, 2))',
      'constraint ck_certificate_transcription_file check ((file_sha256 is null) = (file_line is null))',
    ],
    indexes: [
      `unique index uq_certificate_transcription_keying on certificate_transcription (certificate_id, keying) where ${STANDING}`,
      'index ix_certificate_transcription_coils on certificate_transcription using gin (coil_numbers) where known_until is null',
      'index ix_certificate_transcription_heats on certificate_transcription using gin (heat_numbers) where known_until is null',
    ],
  }),
  versionedTable({
    name: 'certificate_link',
    columns: ['certificate_id uuid not null', 'coil_id uuid not null', 'role text not null', 'named_as text not null', 'note text'],
    references: { certificate_id: 'certificate', coil_id: 'coil' },
    constraints: ["constraint ck_certificate_link_role check (role in ('mill', 'slitter', 'retest'))"],
    indexes: [
      `unique index uq_certificate_link_pair on certificate_link (certificate_id, coil_id) where ${STANDING}`,
      'index ix_certificate_link_coil_id on certificate_link (coil_id) where known_until is null',
    ],
  }),
  versionedTable({
    name: 'coil_receipt',
    columns: [
      'coil_id uuid not null', 'occasion text not null', 'tag_number text not null', 'tag_heat_number text',
      'weighed_mass_kg measured', 'weighed_mass_u_kg measured', 'bore_mm measured', 'outer_diameter_mm measured',
      'diameter_u_mm measured', 'rest_length_mm int8', 'condition text not null', 'damage text', 'place text not null', 'note text',
    ],
    references: { coil_id: 'coil' },
    constraints: [
      "constraint ck_coil_receipt_occasion check (occasion in ('delivery', 'back-from-line'))",
      "constraint ck_coil_receipt_condition check (condition in ('sound', 'damaged', 'wet', 'unbanded'))",
      "constraint ck_coil_receipt_damage check (condition = 'sound' or damage is not null)",
      "constraint ck_coil_receipt_rest check ((occasion = 'back-from-line') = (rest_length_mm is not null))",
      'constraint ck_coil_receipt_diameters check ((bore_mm is null) = (outer_diameter_mm is null) and bore_mm < outer_diameter_mm)',
    ],
    indexes: ['index ix_coil_receipt_coil_id on coil_receipt (coil_id) where known_until is null'],
  }),
  versionedTable({
    name: 'incoming_check',
    columns: [
      'coil_id uuid not null', 'characteristic text not null', 'unit text not null', 'readings jsonb not null',
      'instrument text not null', 'expanded_u measured', 'base_mm measured', 'method text', 'note text',
    ],
    references: { coil_id: 'coil' },
    constraints: ['constraint ck_incoming_check_uncertainty check (expanded_u >= 0)'],
    indexes: ['index ix_incoming_check_coil_id on incoming_check (coil_id) where known_until is null'],
  }),
  versionedTable({
    name: 'deviation_permit',
    columns: [
      'coil_id uuid not null', 'for_string_id uuid', 'departure text not null', 'limit_text text not null',
      'valid_until timestamptz not null', 'note text',
    ],
    references: { coil_id: 'coil', for_string_id: 'casing_string' },
    indexes: ['index ix_deviation_permit_coil_id on deviation_permit (coil_id) where known_until is null'],
  }),
  versionedTable({
    name: 'coil_decision',
    columns: [
      'coil_id uuid not null', 'sequence int4 not null', 'decision text not null', 'specification_id uuid not null',
      'verdict text not null', 'statement text not null', 'grounds text not null', 'concession_limit text', 'evaluation text not null',
      'evaluation_sha256 text not null', 'signer_name text not null', 'signer_roles text[] not null', 'signed_by text not null',
    ],
    references: { coil_id: 'coil', specification_id: 'strip_specification' },
    constraints: [
      'constraint uq_coil_decision_sequence unique (coil_id, sequence)',
      "constraint ck_coil_decision_once check (version = 1 and state = 'active' and known_until is null)",
      'constraint ck_coil_decision_sequence check (sequence >= 1)',
      `constraint ck_coil_decision_kind check
         (decision in ('hold', 'accept', 'accept-under-concession', 'reject', 'return'))`,
      "constraint ck_coil_decision_limit check ((decision = 'accept-under-concession') = (concession_limit is not null))",
      "constraint ck_coil_decision_worst check (decision <> 'accept' or verdict = 'conforms')",
      'constraint ck_coil_decision_signer check (done_by = keyed_by)',
      "constraint ck_coil_decision_verdict check ((evaluation::jsonb ->> 'verdict') = verdict)",
      // What was signed is stored whole; the database holds it to its own digest.
      `constraint ck_coil_decision_digest check
         (evaluation_sha256 = encode(sha256(convert_to(evaluation, 'UTF8')), 'hex'))`,
    ],
  }),
];

/** A file is known by its content; a second one with the same content is the same file. Kept in parts, read as a stream. */
const FILES = [
  `create table stored_file (
     sha256 text constraint pk_stored_file primary key, media_type text not null, size_bytes int8 not null,
     part_count int4 not null, stored_at timestamptz not null, stored_by uuid not null,
     constraint ck_stored_file_sha256 check (sha256 ~ '^[0-9a-f]{64}$'),
     constraint ck_stored_file_size check (size_bytes > 0 and part_count > 0))`,
  `create table stored_file_part (
     sha256 text not null constraint fk_stored_file_part_sha256 references stored_file, part_no int4 not null, bytes bytea not null,
     constraint pk_stored_file_part primary key (sha256, part_no))`,
  `create function refuse_change() returns trigger language plpgsql set search_path = public, pg_catalog as $$
   begin
     raise exception '% is only added to', tg_table_name using errcode = 'EM005';
   end $$`,
  ...['stored_file', 'stored_file_part'].flatMap((table) => [
    `create trigger keep_row before update or delete on ${table} for each row execute function refuse_change()`,
    `create trigger keep_table before truncate on ${table} for each statement execute function refuse_change()`,
    `grant select, insert on ${table} to everymetre_app`,
  ]),
];

const DOCUMENT = versionedTable({
  name: 'document',
  columns: [
    'file_sha256 text not null', 'about text not null', 'file_name text not null', 'certificate_id uuid', 'coil_id uuid',
    'is_original boolean not null', 'page_count int4', 'language text', 'note text',
    'constraint fk_document_file_sha256 foreign key (file_sha256) references stored_file',
  ],
  references: { certificate_id: 'certificate', coil_id: 'coil' },
  constraints: [
    "constraint ck_document_about check (about in ('certificate', 'coil-tag', 'other'))",
    'constraint ck_document_subject check (certificate_id is not null or coil_id is not null)',
    "constraint ck_document_certificate check (about <> 'certificate' or certificate_id is not null)",
  ],
  indexes: [
    'index ix_document_file_sha256 on document (file_sha256) where known_until is null',
    'index ix_document_certificate_id on document (certificate_id) where known_until is null',
    'index ix_document_coil_id on document (coil_id) where known_until is null',
  ],
});

/**
 * EM008: a revision that an order or a decision rests on says for ever what it said. The first version is locked against
 * an order that names it at the same moment: a foreign key holds that row.
 */
const FREEZE_SPECIFICATION = `
create function refuse_frozen_specification() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  if new.version = 1 or new.state = 'void' then
    return new;
  end if;
  perform 1 from strip_specification where id = new.id and version = 1 for update;
  -- Any version of an order counts: what was once ordered to it was judged by it.
  if exists (select 1 from strip_order where specification_id = new.id)
     or exists (select 1 from coil_decision where specification_id = new.id) then
    raise exception 'revision % of specification % is in use', new.revision, new.number using errcode = 'EM008';
  end if;
  return new;
end $$`;

/** EM009: the second keying of a certificate is another person's, however often either is amended. */
const OTHER_KEYER = `
create function refuse_same_keyer() returns trigger language plpgsql set search_path = public, pg_catalog as $$
declare
  other uuid;
begin
  if new.state <> 'active' then
    return new;
  end if;
  -- A row lock, not an advisory one: an import holds one for each of thousands of certificates.
  perform 1 from certificate where id = new.certificate_id and version = 1 for update;
  select id into other from certificate_transcription
   where certificate_id = new.certificate_id and keying = 3 - new.keying and known_until is null and state = 'active' and id <> new.id;
  -- Whoever had a hand in any version of the one has none in any version of the other.
  if other is not null and exists (
    select 1 from certificate_transcription theirs
     where theirs.id = other
       and (new.keyed_by in (theirs.keyed_by, theirs.done_by) or new.done_by in (theirs.keyed_by, theirs.done_by)
            or exists (select 1 from certificate_transcription own
                        where own.id = new.id and (own.keyed_by in (theirs.keyed_by, theirs.done_by)
                                                   or own.done_by in (theirs.keyed_by, theirs.done_by))))
  ) then
    raise exception 'both keyings of certificate % would be by the same person', new.certificate_id using errcode = 'EM009';
  end if;
  return new;
end $$`;

/**
 * EM010: no pipe is made of a coil that was neither accepted nor permitted. Asked once, when the record first names the
 * coil: what becomes known of a coil later moves no record that stands. A permit is given before the pipe is made, and a
 * decision against the coil ends what was permitted until then.
 */
const ACCEPTED_COILS = `
create function is_usable_coil(coil uuid, string uuid, at timestamptz) returns boolean language sql stable
  set search_path = public, pg_catalog as $$
  with last as (select decision, known_from from coil_decision where coil_id = coil order by sequence desc limit 1)
  select exists (select 1 from last where decision in ('accept', 'accept-under-concession'))
      or exists (select 1 from deviation_permit p
                  where p.coil_id = coil and p.known_until is null and p.state = 'active'
                    and p.observed_at <= at and p.valid_until > at
                    and (p.for_string_id is null or p.for_string_id = string)
                    and not exists (select 1 from last where last.known_from >= p.known_from))
$$`;

/**
 * EM011: a decision is signed by an engineer of that name, and follows the last one on its coil. Decisions on one coil are
 * made one after another: the coil's first version is locked.
 */
const SIGNED_IN_TURN = `
create function refuse_unfit_decision() returns trigger language plpgsql set search_path = public, pg_catalog as $$
begin
  perform 1 from coil where id = new.coil_id and version = 1 for update;
  if new.sequence <> (select count(*) + 1 from coil_decision where coil_id = new.coil_id) then
    raise exception 'decision % on coil % does not follow the last one', new.sequence, new.coil_id using errcode = 'EM011';
  end if;
  if not exists (select 1 from person where id = new.keyed_by and known_until is null and state = 'active' and active
                    and name = new.signer_name and roles @> new.signer_roles and 'materials-engineer' = any(new.signer_roles)) then
    raise exception 'decision on coil % is not signed by an engineer', new.coil_id using errcode = 'EM011';
  end if;
  return new;
end $$`;

const demandAccepted = (table: string, columns: readonly string[]): string => `
create function refuse_unaccepted_coil_of_${table}() returns trigger language plpgsql set search_path = public, pg_catalog as $$
declare
  before record;
begin
  if new.state = 'void' then
    return new;
  end if;
  select ${columns.join(', ')} into before from ${table} where id = new.id and version = new.version - 1;
${columns
  .map(
    (column) => `  if new.${column} is distinct from before.${column} and not is_usable_coil(new.${column}, new.string_id, new.observed_at) then
    raise exception 'coil % is not accepted', new.${column} using errcode = 'EM010', constraint = 'accepted_${column}';
  end if;`,
  )
  .join('\n')}
  return new;
end $$`;

const SPLICED: readonly (readonly [string, readonly string[]])[] = [
  ['coil_segment', ['coil_id']],
  ['splice', ['leaving_coil_id', 'entering_coil_id']],
];

/**
 * Parts of numbers, and numbers with a typing slip, are found through these. New numbers go into them at once: a list of
 * those still to be put in would be walked through by every search.
 */
const SEARCHED = ['coil', 'heat', 'certificate', 'strip_order'].map(
  (table) => `create index ix_${table}_number_trgm on ${table} using gin (number gin_trgm_ops) with (fastupdate = off)
     where known_until is null`,
);

/** Specifications, orders, papers, receipts, checks and decisions: what stands between a delivery and the line. */
export class IncomingStrip1764061200005 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    await runner.query('create extension if not exists pg_trgm');
    for (const statement of [...FILES, ...TABLES.flat(), ...DOCUMENT]) await runner.query(statement);
    // A decision is followed by another one, never closed or amended.
    await runner.query('revoke update (known_until) on coil_decision from everymetre_app');
    await runner.query('alter table coil add column order_id uuid, add column master_coil text');
    await runner.query(
      'alter table coil add constraint fk_coil_order_id foreign key (order_id, one) references strip_order (id, version)',
    );
    await runner.query('create index ix_coil_order_id on coil (order_id) where known_until is null');
    for (const statement of [FREEZE_SPECIFICATION, OTHER_KEYER, ACCEPTED_COILS, SIGNED_IN_TURN, ...SEARCHED]) await runner.query(statement);
    await runner.query(
      'create trigger keep_frozen before insert on strip_specification for each row execute function refuse_frozen_specification()',
    );
    await runner.query(
      'create trigger other_keyer before insert on certificate_transcription for each row execute function refuse_same_keyer()',
    );
    await runner.query(
      'create trigger signed_in_turn before insert on coil_decision for each row execute function refuse_unfit_decision()',
    );
    for (const [table, columns] of SPLICED) {
      await runner.query(demandAccepted(table, columns));
      await runner.query(
        `create trigger accepted_coil before insert on ${table} for each row execute function refuse_unaccepted_coil_of_${table}()`,
      );
    }
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
