import type { MigrationInterface, QueryRunner } from 'typeorm';
import { STANDING, versionedTable } from './versioned-table.js';

const STRING = { string_id: 'casing_string' };

const TABLES = [
  versionedTable({
    name: 'line_setup',
    columns: ['string_id uuid not null', 'stations jsonb not null', 'viewing text not null', 'note text'],
    references: STRING,
    indexes: [`unique index uq_line_setup_from on line_setup (string_id, observed_at) where ${STANDING}`],
  }),
  versionedTable({
    name: 'counter_period',
    columns: [
      'string_id uuid not null', 'counter text not null', 'during tstzrange not null',
      'start_reading measured not null', 'previous_end_reading measured', 'start_given_mm int8',
      'start_footage_mm measured not null', 'scale_mm_per_count measured not null',
      'scale_relative_u measured not null', 'wheel text', 'note text',
    ],
    references: STRING,
    constraints: [
      'constraint ck_counter_period_start check ((previous_end_reading is null) <> (start_given_mm is null))',
      'constraint ck_counter_period_scale check (scale_mm_per_count > 0 and scale_relative_u >= 0)',
      'constraint ck_counter_period_during check (not isempty(during) and not lower_inf(during))',
      `constraint xc_counter_period_during exclude using gist
         (string_id with =, counter with =, during with &&) where (${STANDING})`,
    ],
  }),
  versionedTable({
    name: 'counter_reading',
    columns: ['string_id uuid not null', 'counter text not null', 'reading measured not null', 'note text'],
    references: STRING,
    indexes: [
      `index ix_counter_reading_at on counter_reading (string_id, counter, observed_at) where known_until is null`,
    ],
  }),
  versionedTable({
    name: 'hang_off',
    columns: [
      'string_id uuid not null', 'given jsonb not null', 'span int8range not null', 'from_u_mm measured not null',
      'to_u_mm measured not null', 'predicted boolean not null', 'rests_on jsonb not null',
      'md_mm int8 not null', 'md_u_mm measured not null', 'note text',
    ],
    references: STRING,
    insideString: 'span',
    constraints: ['constraint ck_hang_off_span check (not isempty(span))'],
    indexes: [`unique index uq_hang_off_string_id on hang_off (string_id) where ${STANDING}`],
  }),
  versionedTable({
    name: 'shoe_tie',
    columns: [
      'string_id uuid not null', 'given jsonb not null', 'weld_footage_mm int8 not null',
      'weld_u_mm measured not null', 'rests_on jsonb not null', 'shoe_md_mm int8 not null', 'shoe_u_mm measured not null', 'method text not null',
      'note text',
    ],
    references: STRING,
    indexes: [`unique index uq_shoe_tie_at on shoe_tie (string_id, observed_at) where ${STANDING}`],
  }),
  versionedTable({
    name: 'survey',
    columns: [
      'well_id uuid not null', 'stations jsonb not null', 'tie_in jsonb not null', 'tool text not null', 'note text',
    ],
    references: { well_id: 'well' },
    indexes: ['index ix_survey_well_id on survey (well_id) where known_until is null'],
  }),
];

/** What the line measures: set-ups, counters, the hang-off, the shoe, the hole. */
export class Line1764061200003 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    for (const statement of TABLES.flat()) await runner.query(statement);
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
