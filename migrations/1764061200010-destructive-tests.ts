import type { MigrationInterface, QueryRunner } from 'typeorm';
import { STANDING, versionedTable } from './versioned-table.js';

const TEST_SAMPLE = versionedTable({
  name: 'test_sample',
  columns: [
    'string_id uuid not null', 'number text not null', 'coil_id uuid', 'coil_end text', 'stop_footage_mm int8', 'stop_side text', 'footage_mm int8',
    'splice_id uuid', 'orientation text not null', 'custody jsonb not null', 'note text',
  ],
  references: { string_id: 'casing_string', coil_id: 'coil', splice_id: 'splice' },
  constraints: [
    'constraint ck_test_sample_origin check (num_nonnulls(coil_id, stop_footage_mm, footage_mm, splice_id) = 1)',
    'constraint ck_test_sample_coil_end check ((coil_id is null) = (coil_end is null))',
    'constraint ck_test_sample_stop_side check ((stop_footage_mm is null) = (stop_side is null))',
    "constraint ck_test_sample_end check (coil_end in ('head', 'tail'))",
    "constraint ck_test_sample_side check (stop_side in ('before', 'after'))",
    'constraint ck_test_sample_footage check (coalesce(stop_footage_mm, footage_mm, 0) >= 0)',
    "constraint ck_test_sample_orientation check (orientation in ('longitudinal', 'transverse', 'full-section'))",
  ],
  indexes: [
    `unique index uq_test_sample_number on test_sample (string_id, upper(number)) where ${STANDING}`,
    'index ix_test_sample_string_id on test_sample (string_id)',
    'index ix_test_sample_coil_id on test_sample (coil_id) where coil_id is not null',
    'index ix_test_sample_splice_id on test_sample (splice_id) where splice_id is not null',
  ],
});

const DESTRUCTIVE_TEST = versionedTable({
  name: 'destructive_test',
  columns: [
    'string_id uuid not null', 'test_sample_id uuid not null', 'kind text not null', 'method text not null', 'laboratory text not null', 'readings jsonb',
    'stated text', 'outcome text not null', 'void_reason text', 'follows_test_id uuid', 'note text',
  ],
  references: { string_id: 'casing_string', test_sample_id: 'test_sample', follows_test_id: 'destructive_test' },
  constraints: [
    "constraint ck_destructive_test_kind check (kind in ('tensile', 'flattening', 'flaring', 'reverse-bend', 'macro', 'hardness'))",
    "constraint ck_destructive_test_outcome check (outcome in ('pass', 'fail', 'void'))",
    "constraint ck_destructive_test_void check ((outcome = 'void') = (void_reason is not null))",
    `constraint ck_destructive_test_result check (num_nonnulls(readings, stated) = 1
      or (outcome = 'void' and num_nonnulls(readings, stated) = 0))`,
    'constraint ck_destructive_test_follows check (follows_test_id <> id)',
  ],
  indexes: [
    'index ix_destructive_test_string_id on destructive_test (string_id)',
    'index ix_destructive_test_sample_id on destructive_test (test_sample_id)',
    'index ix_destructive_test_follows_id on destructive_test (follows_test_id) where follows_test_id is not null',
  ],
});

/** Samples cut from the product, and what became of them under test. */
export class DestructiveTests1764061200010 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    for (const statement of [...TEST_SAMPLE, ...DESTRUCTIVE_TEST]) await runner.query(statement);
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
