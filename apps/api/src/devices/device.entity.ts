import { Column } from 'typeorm';
import { RecordTable, StringRecordVersion } from '#libs/persistence';

/** A line computer that appends readings of its own counters to one string. Its secrets are kept elsewhere. */
@RecordTable('device', { stringId: 'casing_string' })
export class Device extends StringRecordVersion {
  @Column({ type: 'text' })
  name!: string;

  /** The counters it may append to. */
  @Column({ type: 'text', array: true })
  counters!: string[];

  /** After this, none of its tokens is taken. */
  @Column({ type: 'timestamptz' })
  expiresAt!: string;

  @Column({ type: 'boolean' })
  active!: boolean;
}
