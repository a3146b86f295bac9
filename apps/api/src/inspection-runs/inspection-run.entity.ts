import { Check, Column } from 'typeorm';
import { IndexByName, RecordTable, StringRecordVersion } from '#libs/persistence';

/** How one channel was set. Decimal text. */
export interface ChannelSetting {
  readonly channelId: string;
  readonly gainDb: string | null;
  readonly threshold: string | null;
  readonly filter: string | null;
  readonly note: string | null;
}

/** Channels that inspected the pipe with one setting, by one operator (`doneBy`), from `observedAt` on. */
@RecordTable('inspection_run', { stringId: 'casing_string', standardId: 'instrument' })
@Check('ck_inspection_run_ended_at', 'ended_at > observed_at')
@Check('ck_inspection_run_end_reason', 'end_reason is null or ended_at is not null')
@Check('ck_inspection_run_channels', 'cardinality(channel_ids) >= 1')
@IndexByName('ix_inspection_run_channel_ids')
@IndexByName('ix_inspection_run_standard_id')
@IndexByName('ix_inspection_run_known_from')
export class InspectionRun extends StringRecordVersion {
  /** Null while it goes on. */
  @Column({ type: 'timestamptz', nullable: true })
  endedAt!: string | null;

  /** The counter by whose readings samples are placed. */
  @Column({ type: 'text' })
  counter!: string;

  @Column({ type: 'uuid', array: true })
  channelIds!: string[];

  @Column({ type: 'jsonb' })
  settings!: readonly ChannelSetting[];

  @Column({ type: 'uuid', nullable: true })
  standardId!: string | null;

  @Column({ type: 'text', nullable: true })
  endReason!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
