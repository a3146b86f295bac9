import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable } from '#libs/persistence';
import { PlacedVersion } from '../line/placed.entity.js';

/** The weld that joins the end of one coil's strip to the beginning of the next one's: an interval of the pipe. */
@RecordTable('splice', { stringId: 'casing_string', leavingCoilId: 'coil', enteringCoilId: 'coil' })
@Check('ck_splice_span', 'not isempty(span) and not lower_inf(span) and not upper_inf(span)')
@Check('ck_splice_hand', "hand in ('square', 'left', 'right')")
@Check('ck_splice_verdict', "verdict in ('accepted', 'in-doubt', 'rejected', 'open')")
@Check('ck_splice_doubt', "(verdict = 'in-doubt') = (doubt is not null)")
@IndexByName('ix_splice_span')
@IndexByName('uq_splice_number')
@IndexByName('ix_splice_known_from')
export class SpliceVersion extends PlacedVersion {
  @Column({ type: 'text' })
  number!: string;

  @Column({ type: 'uuid' })
  leavingCoilId!: string;

  @Column({ type: 'uuid' })
  enteringCoilId!: string;

  /** To the strip edge; 90 is a square butt. */
  @Column({ type: 'numeric' })
  angleDeg!: string;

  @Column({ type: 'text' })
  hand!: 'square' | 'left' | 'right';

  /** Its place was seen on the pipe. */
  @Column({ type: 'boolean' })
  confirmed!: boolean;

  @Column({ type: 'text' })
  verdict!: 'open' | 'accepted' | 'in-doubt' | 'rejected';

  @Column({ type: 'text', nullable: true })
  doubt!: string | null;

  /** The pipe that the weld takes by its angle and the width of the entering strip, as known when this was written. */
  @Column({ type: 'int8' })
  pipeLengthMm!: number;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
