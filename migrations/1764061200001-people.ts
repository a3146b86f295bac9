import type { MigrationInterface, QueryRunner } from 'typeorm';
import { versionedTable } from './versioned-table.js';

const PERSON = versionedTable({
  name: 'person',
  columns: ['name text not null', 'sign_in_name text not null', 'roles text[] not null', 'active boolean not null'],
  constraints: [
    `constraint ck_person_roles check
       (roles <@ array['qc-inspector', 'materials-engineer', 'auditor', 'administrator']::text[])`,
  ],
  indexes: ['unique index uq_person_sign_in_name on person (lower(sign_in_name)) where known_until is null'],
});

/** People are records; their secrets and those of devices are not, and only digests of them are kept. */
export class People1764061200001 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    for (const statement of PERSON) await runner.query(statement);
    await runner.query(
      `create table credential (person_id uuid constraint pk_credential primary key,
         password_hash text not null, changed_at timestamptz not null default clock_timestamp())`,
    );
    await runner.query(
      `create table session (token_hash text constraint pk_session primary key, person_id uuid not null,
         opened_at timestamptz not null, seen_at timestamptz not null, expires_at timestamptz not null,
         ended_at timestamptz)`,
    );
    await runner.query('create index ix_session_person_id on session (person_id) where ended_at is null');
    await runner.query(
      `create table device_secret (id uuid constraint pk_device_secret primary key, device_id uuid not null,
         secret_hash text not null, made_at timestamptz not null, ended_at timestamptz)`,
    );
    await runner.query(
      `create table sign_in_failure (id int8 generated always as identity constraint pk_sign_in_failure primary key,
         sign_in_name text not null, address text not null, at timestamptz not null)`,
    );
    await runner.query('create index ix_sign_in_failure_name on sign_in_failure (lower(sign_in_name), at)');
    await runner.query('create index ix_sign_in_failure_address on sign_in_failure (address, at)');
    await runner.query('grant select, insert, update (password_hash, changed_at) on credential to everymetre_app');
    await runner.query('grant select, insert, update (seen_at, ended_at) on session to everymetre_app');
    await runner.query('grant select, insert, update (ended_at) on device_secret to everymetre_app');
    await runner.query('grant select, insert on sign_in_failure to everymetre_app');
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
