import type { MigrationInterface, QueryRunner } from 'typeorm';
import { versionedTable } from './versioned-table.js';

const SPLICE_STEP = versionedTable({
  name: 'splice_step',
  columns: [
    'string_id uuid not null', 'splice_id uuid not null', 'stage text not null', 'outcome text not null', 'station text', 'readings jsonb not null',
    'examinations jsonb not null', 'coupons text[] not null', 'chart_sha256 text', 'photo_sha256s text[] not null', 'note text',
    'constraint fk_splice_step_chart_sha256 foreign key (chart_sha256) references stored_file',
  ],
  references: { string_id: 'casing_string', splice_id: 'splice' },
  constraints: [
    "constraint ck_splice_step_stage check (stage in ('preparation', 'flat-strip-release', 'after-forming', 'station-sighting'))",
    "constraint ck_splice_step_outcome check (outcome in ('accepted', 'held', 'rejected'))",
    "constraint ck_splice_step_station check ((stage = 'station-sighting') = (station is not null))",
  ],
  indexes: [
    'index ix_splice_step_string_id on splice_step (string_id)',
    'index ix_splice_step_splice_id on splice_step (splice_id)',
    'index ix_splice_step_readings on splice_step using gin (readings jsonb_path_ops)',
  ],
});

/** What was done and seen at each stage of a splice, from the prepared ends to the last station. */
export class SpliceSteps1764061200013 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    for (const statement of SPLICE_STEP) await runner.query(statement);
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
