import { Check, Column, Exclusion } from 'typeorm';
import type { Interval } from '#libs/intervals';
import { IndexByName, RecordTable } from '#libs/persistence';
import { PlacedVersion } from '../line/placed.entity.js';

/** The coil that an interval of pipe was made from. */
@RecordTable('coil_segment', { stringId: 'casing_string', coilId: 'coil' })
@Check('ck_coil_segment_span', 'not isempty(span) and not lower_inf(span) and not upper_inf(span)')
@Check('ck_coil_segment_runs', "runs in ('head-first', 'tail-first')")
@Check(
  'ck_coil_segment_strip',
  'not isempty(strip_span) and lower_inc(strip_span) and lower(strip_span) >= 0 and not upper_inf(strip_span)',
)
@Exclusion(
  'xc_coil_segment_span',
  "using gist (string_id with =, span with &&) where (known_until is null and state = 'active')",
)
@Exclusion(
  'xc_coil_segment_strip',
  "using gist (coil_id with =, strip_span with &&) where (known_until is null and state = 'active')",
)
@IndexByName('ix_coil_segment_span')
@IndexByName('ix_coil_segment_coil_id')
@IndexByName('ix_coil_segment_known_from')
export class CoilSegmentVersion extends PlacedVersion {
  @Column({ type: 'uuid' })
  coilId!: string;

  /** Strip of the coil from its head, half-open, mm. */
  @Column({ type: 'int8range' })
  stripSpan!: Interval;

  @Column({ type: 'text' })
  runs!: 'head-first' | 'tail-first';

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
