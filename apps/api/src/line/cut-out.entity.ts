import { Check, Column, Exclusion } from 'typeorm';
import { IndexByName, RecordTable } from '#libs/persistence';
import { PlacedVersion } from './placed.entity.js';

/** Pipe taken out of the string. `observedAt` is when the ends were joined again: from then on the pipe is shorter. */
@RecordTable('cut_out', { stringId: 'casing_string' })
@Check('ck_cut_out_span', 'not isempty(span) and not lower_inf(span) and not upper_inf(span)')
@Exclusion(
  'xc_cut_out_span',
  "using gist (string_id with =, span with &&) where (known_until is null and state = 'active')",
)
@IndexByName('ix_cut_out_span')
@IndexByName('ix_cut_out_known_from')
export class CutOutVersion extends PlacedVersion {
  @Column({ type: 'text' })
  cause!: string;

  /** The piece kept, if any. */
  @Column({ type: 'text', nullable: true })
  piece!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
