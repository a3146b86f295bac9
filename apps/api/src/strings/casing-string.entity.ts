import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';

/** One continuous pipe of a well, and the ratios its fold is reckoned with. */
@RecordTable('casing_string', { wellId: 'well' })
@Check('ck_casing_string_limit', 'footage_limit_mm between 1 and 100000000')
@Check('ck_casing_string_ratio', 'length_ratio > 0 and length_ratio_u >= 0')
@IndexByName('uq_casing_string_name')
export class CasingString extends RecordVersion {
  @Column({ type: 'uuid' })
  wellId!: string;

  @Column({ type: 'text' })
  name!: string;

  /** No record lies at or beyond this footage. */
  @Column({ type: 'int8' })
  footageLimitMm!: number;

  @Column({ type: 'numeric' })
  outsideDiameterMm!: string;

  @Column({ type: 'numeric' })
  wallThicknessMm!: string;

  /** The counter whose readings are meant where none is named. */
  @Column({ type: 'text' })
  masterCounter!: string;

  /** λ: metres of outer wall from one metre of inner pipe. */
  @Column({ type: 'numeric' })
  lengthRatio!: string;

  /** Standard uncertainty of λ. */
  @Column({ type: 'numeric' })
  lengthRatioU!: string;

  /** κ: mean diameter of the outer wall over that of the inner wall. */
  @Column({ type: 'numeric', nullable: true })
  diameterRatio!: string | null;

  /** Standard uncertainty of κ. */
  @Column({ type: 'numeric', nullable: true })
  diameterRatioU!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
