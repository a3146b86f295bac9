import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';
import type { AboutRecord } from '../string-records/about-records.service.js';
import type { SHIFT_EVENTS } from './shift-event.dto.js';

/** Something that happened in a shift and is worth telling. */
@RecordTable('shift_event', { stringId: 'casing_string', shiftId: 'shift' })
@Check('ck_shift_event_category', "category in ('stop', 'visitor', 'safety', 'weather', 'equipment', 'material', 'other')")
@IndexByName('ix_shift_event_shift_id')
@IndexByName('ix_shift_event_known_from')
export class ShiftEvent extends StringRecordVersion {
  @Column({ type: 'uuid' })
  shiftId!: string;

  @Column({ type: 'text' })
  category!: (typeof SHIFT_EVENTS)[number];

  @Column({ type: 'text' })
  text!: string;

  @Column({ type: 'jsonb', nullable: true })
  about!: AboutRecord | null;
}
