import type { MigrationInterface, QueryRunner } from 'typeorm';
import { STANDING, versionedTable } from './versioned-table.js';

const STRING = { string_id: 'casing_string' };

/** A record placed on the pipe: what was given of its place, and the footage derived from it. */
const PLACED = [
  'string_id uuid not null', 'given jsonb not null', 'span int8range not null', 'from_u_mm measured not null',
  'to_u_mm measured not null', 'predicted boolean not null', 'rests_on jsonb not null',
];

const notEmpty = (table: string): string =>
  `constraint ck_${table}_span check (not isempty(span) and not lower_inf(span) and not upper_inf(span))`;

const onGround = (table: string): string =>
  `index ix_${table}_span on ${table} using gist (string_id, span) where known_until is null`;

const TABLES = [
  versionedTable({
    name: 'coil_segment',
    columns: [
      ...PLACED, 'coil_id uuid not null', 'strip_span int8range not null', 'runs text not null', 'note text',
    ],
    references: { ...STRING, coil_id: 'coil' },
    insideString: 'span',
    constraints: [
      notEmpty('coil_segment'),
      "constraint ck_coil_segment_runs check (runs in ('head-first', 'tail-first'))",
      `constraint ck_coil_segment_strip check
         (not isempty(strip_span) and lower_inc(strip_span) and lower(strip_span) >= 0 and not upper_inf(strip_span))`,
      `constraint xc_coil_segment_span exclude using gist (string_id with =, span with &&) where (${STANDING})`,
      `constraint xc_coil_segment_strip exclude using gist (coil_id with =, strip_span with &&) where (${STANDING})`,
    ],
    indexes: [onGround('coil_segment')],
  }),
  versionedTable({
    name: 'splice',
    columns: [
      ...PLACED, 'number text not null', 'leaving_coil_id uuid not null', 'entering_coil_id uuid not null',
      'angle_deg measured not null', 'hand text not null', 'confirmed boolean not null', 'verdict text not null',
      'doubt text', 'pipe_length_mm int8 not null', 'note text',
    ],
    references: { ...STRING, leaving_coil_id: 'coil', entering_coil_id: 'coil' },
    insideString: 'span',
    constraints: [
      notEmpty('splice'),
      "constraint ck_splice_hand check (hand in ('square', 'left', 'right'))",
      "constraint ck_splice_verdict check (verdict in ('accepted', 'in-doubt', 'rejected', 'open'))",
      "constraint ck_splice_doubt check ((verdict = 'in-doubt') = (doubt is not null))",
    ],
    indexes: [
      onGround('splice'),
      `unique index uq_splice_number on splice (string_id, upper(number)) where ${STANDING}`,
    ],
  }),
  versionedTable({
    name: 'cut_out',
    columns: [...PLACED, 'cause text not null', 'piece text', 'note text'],
    references: STRING,
    insideString: 'span',
    constraints: [
      notEmpty('cut_out'),
      `constraint xc_cut_out_span exclude using gist (string_id with =, span with &&) where (${STANDING})`,
    ],
    indexes: [onGround('cut_out')],
  }),
  versionedTable({
    name: 'rejoin',
    columns: [
      'string_id uuid not null', 'cut_out_id uuid not null', 'procedure text not null', 'verdict text not null',
      'examination text', 'note text',
    ],
    references: { ...STRING, cut_out_id: 'cut_out' },
    constraints: ["constraint ck_rejoin_verdict check (verdict in ('accepted', 'rejected', 'open'))"],
    indexes: [`unique index uq_rejoin_cut_out_id on rejoin (cut_out_id) where ${STANDING}`],
  }),
  versionedTable({
    name: 'inspection',
    columns: [
      ...PLACED, 'kind text not null', 'characteristic text not null', 'value measured', 'unit text',
      'limit_min measured', 'limit_max measured', 'requirement text', 'surface text', 'clock_hours measured',
      'viewing text', 'verdict text not null', 'note text',
    ],
    references: STRING,
    insideString: 'span',
    constraints: [
      notEmpty('inspection'),
      "constraint ck_inspection_kind check (kind in ('visual', 'dimensional'))",
      "constraint ck_inspection_value check ((kind = 'dimensional') = (value is not null and unit is not null))",
      'constraint ck_inspection_clock check (clock_hours > 0 and clock_hours <= 12)',
      'constraint ck_inspection_viewing check ((clock_hours is null) = (viewing is null))',
      "constraint ck_inspection_surface check (surface in ('formed-inside', 'formed-outside'))",
      "constraint ck_inspection_view check (viewing in ('down-the-hole', 'up-the-hole'))",
    ],
    indexes: [onGround('inspection')],
  }),
  versionedTable({
    name: 'nonconformance',
    columns: [
      'number int8 not null', 'title text not null', 'severity text not null', 'origin text not null',
      'string_id uuid', 'given jsonb not null', 'extent int8multirange not null', 'rests_on jsonb not null',
      'coil_extents jsonb not null', 'coil_ids uuid[] not null', 'extent_basis text not null',
      'requirement jsonb not null', 'found jsonb not null', 'containment jsonb', 'stage text not null',
      'disposition jsonb', 'note text',
    ],
    references: STRING,
    insideString: 'extent',
    constraints: [
      "constraint ck_nonconformance_severity check (severity in ('critical', 'major', 'minor'))",
      `constraint ck_nonconformance_origin check (origin in ('incoming', 'line', 'audit', 'calibration',
         'late-discovery', 'customer'))`,
      "constraint ck_nonconformance_basis check (extent_basis in ('measured', 'bracketed', 'assumed'))",
      'constraint ck_nonconformance_number check (number >= 1)',
      "constraint ck_nonconformance_closed check (stage <> 'closed' or disposition is not null)",
      `constraint ck_nonconformance_stage check (stage in ('draft', 'open', 'evaluated', 'disposition-approved',
         'executed', 'verified', 'closed'))`,
      `constraint ck_nonconformance_scope check (string_id is not null or isempty(extent))`,
    ],
    indexes: [
      'unique index uq_nonconformance_number on nonconformance (number) where known_until is null',
      'index ix_nonconformance_extent on nonconformance using gist (extent) where known_until is null',
      'index ix_nonconformance_coil_ids on nonconformance using gin (coil_ids) where known_until is null',
    ],
  }),
];

/** What became of the pipe: segments, splices, cut-outs, inspections, nonconformances. */
export class Pipe1764061200004 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    for (const statement of TABLES.flat()) await runner.query(statement);
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
