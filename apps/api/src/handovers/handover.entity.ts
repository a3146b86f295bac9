import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';
import type { AboutRecord } from '../string-records/about-records.service.js';

export interface HandoverItem {
  readonly words: string;
  readonly about: AboutRecord | null;
  /** As given; it is not derived again. */
  readonly footageMm: number | null;
}

/** What a shift hands over. Once it was accepted it says for ever what it said. */
@RecordTable('handover', { stringId: 'casing_string', shiftId: 'shift', nextShiftId: 'shift' })
@Check('ck_handover_next', 'next_shift_id <> shift_id')
@IndexByName('ix_handover_shift_id')
@IndexByName('ix_handover_next_shift_id')
@IndexByName('ix_handover_known_from')
export class Handover extends StringRecordVersion {
  @Column({ type: 'uuid' })
  shiftId!: string;

  @Column({ type: 'uuid', nullable: true })
  nextShiftId!: string | null;

  @Column({ type: 'jsonb' })
  items!: readonly HandoverItem[];

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
