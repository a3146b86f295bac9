import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable } from '#libs/persistence';
import { PlacedVersion } from '../line/placed.entity.js';
import type { EXAMINATION_METHODS, STEP_OUTCOMES } from '../splice-steps/splice-step.dto.js';
import type { Reflector } from './examination.dto.js';

/** A non-destructive examination of a place on the pipe. */
@RecordTable('examination', { stringId: 'casing_string', spliceId: 'splice', rejoinId: 'rejoin', repairId: 'repair', instrumentId: 'instrument', standInBy: 'person' })
@Check('ck_examination_span', 'not isempty(span) and not lower_inf(span) and not upper_inf(span)')
@Check('ck_examination_method', "method in ('VT', 'RT', 'UT', 'MT', 'PT', 'ET')")
@Check('ck_examination_outcome', "outcome in ('accepted', 'held', 'rejected')")
@Check('ck_examination_reflector', "reflector in ('notch-inside', 'notch-outside', 'through-hole', 'flat-bottom-hole', 'side-drilled-hole', 'wire', 'step-hole')")
@Check('ck_examination_sensitivity', '(reflector is null) = (reflector_size_mm is null)')
@Check('ck_examination_size', 'reflector_size_mm > 0')
@Check('ck_examination_of', 'num_nonnulls(splice_id, rejoin_id, repair_id) <= 1')
@Check(
  'ck_examination_stand_in',
  `num_nonnulls(stand_in_reason, stand_in_by) = case when cardinality(stands_in_for) = 0 then 0 else 2 end
   and stands_in_for <@ array['VT', 'RT', 'UT', 'MT', 'PT', 'ET'] and method <> all (stands_in_for) and stand_in_by <> done_by`,
)
@IndexByName('ix_examination_span')
@IndexByName('ix_examination_known_from')
@IndexByName('ix_examination_splice_id')
@IndexByName('ix_examination_rejoin_id')
@IndexByName('ix_examination_repair_id')
@IndexByName('ix_examination_instrument_id')
export class Examination extends PlacedVersion {
  @Column({ type: 'text' })
  method!: (typeof EXAMINATION_METHODS)[number];

  @Column({ type: 'text' })
  technique!: string;

  @Column({ type: 'text', nullable: true })
  reflector!: Reflector | null;

  @Column({ type: 'numeric', nullable: true })
  reflectorSizeMm!: string | null;

  @Column({ type: 'text' })
  outcome!: (typeof STEP_OUTCOMES)[number];

  @Column({ type: 'text', nullable: true })
  seen!: string | null;

  /** Methods that it stands in for. */
  @Column({ type: 'text', array: true })
  standsInFor!: (typeof EXAMINATION_METHODS)[number][];

  @Column({ type: 'text', nullable: true })
  standInReason!: string | null;

  @Column({ type: 'uuid', nullable: true })
  standInBy!: string | null;

  @Column({ type: 'uuid', nullable: true })
  spliceId!: string | null;

  @Column({ type: 'uuid', nullable: true })
  rejoinId!: string | null;

  @Column({ type: 'uuid', nullable: true })
  repairId!: string | null;

  @Column({ type: 'uuid', nullable: true })
  instrumentId!: string | null;

  @Column({ type: 'text', array: true })
  photoSha256s!: string[];

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
