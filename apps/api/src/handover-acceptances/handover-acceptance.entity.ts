import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';

export interface AcceptedItem {
  /** From 1. */
  readonly item: number;
  readonly accepted: boolean;
  readonly words: string | null;
}

/** What the next shift said to a handover, item by item. `doneBy` accepts. */
@RecordTable('handover_acceptance', { stringId: 'casing_string', handoverId: 'handover' })
@Check('ck_handover_acceptance_of', 'handover_version >= 1')
@IndexByName('uq_handover_acceptance_handover_id')
@IndexByName('ix_handover_acceptance_handover_id')
@IndexByName('ix_handover_acceptance_known_from')
export class HandoverAcceptance extends StringRecordVersion {
  @Column({ type: 'uuid' })
  handoverId!: string;

  /** What was read and accepted. */
  @Column({ type: 'int4' })
  handoverVersion!: number;

  @Column({ type: 'jsonb' })
  items!: readonly AcceptedItem[];

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
