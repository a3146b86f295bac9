import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';

/** A coil of strip as it is fed to the line. */
@RecordTable('coil', { heatId: 'heat', certificateId: 'certificate', orderId: 'strip_order' })
@Check('ck_coil_length', 'length_mm > 0 and crop_mm >= 0 and rest_mm >= 0')
@IndexByName('uq_coil_number')
@IndexByName('ix_coil_heat_id')
@IndexByName('ix_coil_certificate_id')
@IndexByName('ix_coil_order_id')
@IndexByName('ix_coil_number_trgm')
@IndexByName('ix_coil_near_number')
export class Coil extends RecordVersion {
  @Column({ type: 'text' })
  number!: string;

  @Column({ type: 'uuid' })
  heatId!: string;

  @Column({ type: 'uuid', nullable: true })
  certificateId!: string | null;

  @Column({ type: 'numeric' })
  widthMm!: string;

  @Column({ type: 'numeric' })
  thicknessMm!: string;

  @Column({ type: 'numeric' })
  massKg!: string;

  @Column({ type: 'int8', nullable: true })
  lengthMm!: number | null;

  /** Strip cut off the ends before it was used. */
  @Column({ type: 'int8' })
  cropMm!: number;

  /** Strip left over for another string. */
  @Column({ type: 'int8' })
  restMm!: number;

  @Column({ type: 'text', nullable: true })
  note!: string | null;

  /** The order it was delivered on; null for coils that were entered before orders were kept. */
  @Column({ type: 'uuid', nullable: true })
  orderId!: string | null;

  @Column({ type: 'text', nullable: true })
  masterCoil!: string | null;
}
