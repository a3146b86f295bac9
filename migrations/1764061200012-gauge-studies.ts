import type { MigrationInterface, QueryRunner } from 'typeorm';
import { versionedTable } from './versioned-table.js';

const GAUGE_STUDY = versionedTable({
  name: 'gauge_study',
  columns: [
    'instrument_id uuid not null', 'characteristic text not null', 'unit text not null', 'tolerance measured', 'readings jsonb not null', 'note text',
  ],
  references: { instrument_id: 'instrument' },
  constraints: ['constraint ck_gauge_study_tolerance check (tolerance > 0)'],
  indexes: ['index ix_gauge_study_instrument_id on gauge_study (instrument_id)'],
});

/** How well instruments repeat themselves, and people with them. */
export class GaugeStudies1764061200012 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    for (const statement of GAUGE_STUDY) await runner.query(statement);
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
