import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';

/** An order of strip: ties coils to the revision of the specification that was in force when they were ordered. */
@RecordTable('strip_order', { specificationId: 'strip_specification' })
@Check('ck_strip_order_size', 'thickness_mm > 0 and width_mm > 0')
@IndexByName('uq_strip_order_number')
@IndexByName('ix_strip_order_specification_id')
@IndexByName('ix_strip_order_number_trgm')
export class StripOrder extends RecordVersion {
  @Column({ type: 'text' })
  number!: string;

  @Column({ type: 'text' })
  mill!: string;

  @Column({ type: 'date' })
  orderedOn!: string;

  @Column({ type: 'uuid' })
  specificationId!: string;

  @Column({ type: 'numeric' })
  thicknessMm!: string;

  @Column({ type: 'numeric' })
  widthMm!: string;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
