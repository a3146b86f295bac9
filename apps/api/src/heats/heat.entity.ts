import { Column } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';

/** One melt of steel: the identity of its chemistry. */
@RecordTable('heat')
@IndexByName('uq_heat_number')
@IndexByName('ix_heat_number_trgm')
@IndexByName('ix_heat_near_number')
export class Heat extends RecordVersion {
  @Column({ type: 'text' })
  number!: string;

  @Column({ type: 'text', nullable: true })
  steelmaker!: string | null;

  @Column({ type: 'text' })
  grade!: string;

  @Column({ type: 'date', nullable: true })
  castOn!: string | null;
}
