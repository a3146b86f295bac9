import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';
import type { CONDITIONS, OCCASIONS } from './coil-receipt.dto.js';

/** A coil coming in: delivered, or back from the line with what is left of it. */
@RecordTable('coil_receipt', { coilId: 'coil' })
@Check('ck_coil_receipt_occasion', "occasion in ('delivery', 'back-from-line')")
@Check('ck_coil_receipt_condition', "condition in ('sound', 'damaged', 'wet', 'unbanded')")
@Check('ck_coil_receipt_damage', "condition = 'sound' or damage is not null")
@Check('ck_coil_receipt_rest', "(occasion = 'back-from-line') = (rest_length_mm is not null)")
@Check('ck_coil_receipt_diameters', '(bore_mm is null) = (outer_diameter_mm is null) and bore_mm < outer_diameter_mm')
@IndexByName('ix_coil_receipt_coil_id')
export class CoilReceipt extends RecordVersion {
  @Column({ type: 'uuid' })
  coilId!: string;

  @Column({ type: 'text' })
  occasion!: (typeof OCCASIONS)[number];

  @Column({ type: 'text' })
  tagNumber!: string;

  @Column({ type: 'text', nullable: true })
  tagHeatNumber!: string | null;

  @Column({ type: 'numeric', nullable: true })
  weighedMassKg!: string | null;

  @Column({ type: 'numeric', nullable: true })
  weighedMassUKg!: string | null;

  @Column({ type: 'numeric', nullable: true })
  boreMm!: string | null;

  @Column({ type: 'numeric', nullable: true })
  outerDiameterMm!: string | null;

  @Column({ type: 'numeric', nullable: true })
  diameterUMm!: string | null;

  @Column({ type: 'int8', nullable: true })
  restLengthMm!: number | null;

  @Column({ type: 'text' })
  condition!: (typeof CONDITIONS)[number];

  @Column({ type: 'text', nullable: true })
  damage!: string | null;

  @Column({ type: 'text' })
  place!: string;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
