import { Column } from 'typeorm';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';

/** A hold that was lifted. */
@RecordTable('hold_lifting', { stringId: 'casing_string', holdId: 'hold' })
@IndexByName('uq_hold_lifting_hold_id')
@IndexByName('ix_hold_lifting_hold_id')
@IndexByName('ix_hold_lifting_known_from')
export class HoldLifting extends StringRecordVersion {
  @Column({ type: 'uuid' })
  holdId!: string;

  @Column({ type: 'text' })
  grounds!: string;

  @Column({ type: 'text' })
  evidence!: string;

  /** Why the one who set the hold lifted it; never null where it was the same person. */
  @Column({ type: 'text', nullable: true })
  ownHoldBecause!: string | null;
}
