import type { MigrationInterface, QueryRunner } from 'typeorm';
import { tellsStringNews } from './string-news.js';
import { versionedTable } from './versioned-table.js';

const RELEASE = versionedTable({
  name: 'release',
  columns: [
    'string_id uuid not null', 'from_mm int4 not null', 'to_mm int4 not null', 'worst text not null', 'exceptions jsonb not null', 'own_work boolean not null',
    'own_work_because text', 'hang_off_mm int4', 'grounds text not null', 'statement text not null', 'evidence text not null', 'evidence_sha256 text not null',
    'signer_name text not null', 'signer_roles text[] not null', 'signed_by text not null',
  ],
  references: { string_id: 'casing_string' },
  constraints: [
    "constraint ck_release_once check ((version = 1 and state = 'active') or (version = 2 and state = 'void'))",
    'constraint ck_release_interval check (from_mm >= 0 and to_mm > from_mm)',
    'constraint ck_release_signer check (version > 1 or done_by = keyed_by)',
    "constraint ck_release_worst check (worst <> 'failed' and (evidence::jsonb ->> 'worst') = worst)",
    // What was signed is stored whole; the database holds it to its own digest.
    "constraint ck_release_digest check (evidence_sha256 = encode(sha256(convert_to(evidence, 'UTF8')), 'hex'))",
    'constraint ck_release_own_work check (own_work = (own_work_because is not null))',
    "constraint ck_release_exceptions check (jsonb_typeof(exceptions) = 'array')",
  ],
  indexes: ['index ix_release_known_from on release (string_id, known_from)'],
});

/** EM020: a release is signed by somebody of that name with the right to, and says for ever what it said. */
const SIGNED = [
  `create function refuse_unfit_release() returns trigger language plpgsql set search_path = public, pg_catalog as $$
   declare
     first release;
   begin
     if new.version = 1 then
       if not exists (select 1 from person where id = new.keyed_by and known_until is null and state = 'active' and active
                         and name = new.signer_name and roles @> new.signer_roles
                         and new.signer_roles && array['qc-inspector', 'materials-engineer']) then
         raise exception 'release % is not signed by somebody who may release', new.id using errcode = 'EM020';
       end if;
       return new;
     end if;
     select * into first from release where id = new.id and version = 1;
     if (first.string_id, first.from_mm, first.to_mm, first.worst, first.exceptions, first.own_work_because, first.hang_off_mm, first.grounds, first.statement,
         first.evidence_sha256, first.signer_name, first.signer_roles, first.signed_by, first.done_by)
        is distinct from (new.string_id, new.from_mm, new.to_mm, new.worst, new.exceptions, new.own_work_because, new.hang_off_mm, new.grounds, new.statement,
         new.evidence_sha256, new.signer_name, new.signer_roles, new.signed_by, new.done_by) then
       raise exception 'what release % said stays', new.id using errcode = 'EM020';
     end if;
     return new;
   end $$`,
  'create trigger signed before insert on release for each row execute function refuse_unfit_release()',
];

/** Pipe that somebody released and signed for, with the evidence as it stood. */
export class Releases1764061200024 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    for (const statement of [...RELEASE, ...SIGNED, tellsStringNews('release')]) await runner.query(statement);
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
