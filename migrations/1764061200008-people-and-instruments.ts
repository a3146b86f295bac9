import type { MigrationInterface, QueryRunner } from 'typeorm';
import { STANDING, versionedTable } from './versioned-table.js';

const TABLES = [
  versionedTable({
    name: 'qualification',
    columns: [
      'person_id uuid not null', 'number text not null', 'standard text not null', 'subject text not null', 'methods text[] not null',
      'level int4', 'scope jsonb not null', 'starts_on date not null', 'expires_on date', 'confirm_every_months int4',
      'late_confirmation text not null', 'vision_every_months int4', 'authorisation_needed boolean not null', 'examiner text not null', 'note text',
    ],
    references: { person_id: 'person' },
    constraints: [
      "constraint ck_qualification_subject check (subject in ('welding', 'non-destructive-testing', 'inspection'))",
      "constraint ck_qualification_late check (late_confirmation in ('revives', 'ends'))",
      'constraint ck_qualification_methods check (cardinality(methods) > 0)',
      'constraint ck_qualification_days check (expires_on >= starts_on)',
      'constraint ck_qualification_months check (confirm_every_months >= 1 and vision_every_months >= 1 and level >= 1)',
    ],
    indexes: [
      `unique index uq_qualification_number on qualification (person_id, upper(number)) where ${STANDING}`,
      'index ix_qualification_person_id on qualification (person_id)',
    ],
  }),
  versionedTable({
    name: 'qualification_proof',
    columns: [
      'person_id uuid not null', 'qualification_id uuid', 'proof text not null', 'on_day date not null', 'until_day date',
      'given_by text not null', 'reason_given text', 'note text',
    ],
    references: { person_id: 'person', qualification_id: 'qualification' },
    constraints: [
      "constraint ck_qualification_proof_kind check (proof in ('confirmation', 'authorisation', 'vision-test', 'withdrawal'))",
      "constraint ck_qualification_proof_of check (proof = 'vision-test' or qualification_id is not null)",
      "constraint ck_qualification_proof_until check (until_day is null or (proof = 'authorisation' and until_day >= on_day))",
      "constraint ck_qualification_proof_why check ((proof = 'withdrawal') = (reason_given is not null))",
    ],
    indexes: [
      `unique index uq_qualification_proof_withdrawal on qualification_proof (qualification_id) where proof = 'withdrawal' and ${STANDING}`,
      'index ix_qualification_proof_person_id on qualification_proof (person_id)',
      'index ix_qualification_proof_qualification_id on qualification_proof (qualification_id)',
    ],
  }),
  versionedTable({
    name: 'instrument',
    columns: [
      'number text not null', 'kind text not null', 'name text not null', 'measures text[] not null', 'unit text not null',
      'range_min measured', 'range_max measured', 'resolution measured', 'note text',
    ],
    constraints: [
      "constraint ck_instrument_kind check (kind in ('gauge', 'reference-standard', 'line-instrument'))",
      'constraint ck_instrument_range check (range_min < range_max)',
      'constraint ck_instrument_resolution check (resolution > 0)',
    ],
    indexes: [`unique index uq_instrument_number on instrument (upper(number)) where ${STANDING}`],
  }),
  versionedTable({
    name: 'calibration',
    columns: [
      'instrument_id uuid not null', 'reference_instrument_id uuid', 'certificate_number text not null', 'laboratory text not null',
      'as_found jsonb', 'as_left jsonb', 'decision text not null', 'guard_factor measured not null', 'due_on date', 'note text',
    ],
    references: { instrument_id: 'instrument', reference_instrument_id: 'instrument' },
    constraints: [
      "constraint ck_calibration_decision check (decision in ('simple-acceptance', 'guarded-acceptance', 'proof-of-conformity'))",
      'constraint ck_calibration_guard check (guard_factor >= 0)',
      'constraint ck_calibration_taken check (as_found is not null or as_left is not null)',
      'constraint ck_calibration_reference check (reference_instrument_id <> instrument_id)',
    ],
    indexes: [
      // Of two at one instant nobody could say which was the later state.
      `unique index uq_calibration_at on calibration (instrument_id, observed_at) where ${STANDING}`,
      'index ix_calibration_instrument_id on calibration (instrument_id)',
      'index ix_calibration_reference_instrument_id on calibration (reference_instrument_id)',
    ],
  }),
  versionedTable({
    name: 'weld_procedure',
    columns: [
      'number text not null', 'revision int4 not null', 'title text not null', 'purpose text not null', 'process text not null',
      'effective_from date not null', 'ranges jsonb not null', 'lists jsonb not null', 'test jsonb', 'heat_treatment text', 'note text',
    ],
    constraints: [
      'constraint ck_weld_procedure_revision check (revision >= 1)',
      "constraint ck_weld_procedure_purpose check (purpose in ('splice', 're-join', 'seam', 'repair'))",
    ],
    indexes: [`unique index uq_weld_procedure_revision on weld_procedure (upper(number), revision) where ${STANDING}`],
  }),
];

/** Readings name the instrument that they were taken with; those of before named it in words, or not at all. */
const READINGS = ['inspection', 'incoming_check'].flatMap((table) => [
  `alter table ${table} add column instrument_id uuid,
     add constraint fk_${table}_instrument_id foreign key (instrument_id, one) references instrument (id, version)`,
  `create index ix_${table}_instrument_id on ${table} (instrument_id) where instrument_id is not null`,
]);

/** By the days of a site qualifications and calibrations run out. Of wells of before nobody said where they are. */
const SITE_TIME = [
  "alter table well add column time_zone text not null default 'UTC'", 'alter table well alter column time_zone drop default',
];

/** Who is qualified for what, with what is measured, and by what procedure welds are made. */
export class PeopleAndInstruments1764061200008 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    for (const statement of [...TABLES.flat(), ...READINGS, ...SITE_TIME]) await runner.query(statement);
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
