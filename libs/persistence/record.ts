import { Column, PrimaryColumn } from 'typeorm';

/** Where an entry came from. `paper`: first written by hand and keyed later. */
export const SOURCES = ['keyed', 'paper', 'file', 'instrument'] as const;
export type Source = (typeof SOURCES)[number];

/** What the program may remark on a value it took; `noted`: unlikely, or without a place, and nobody was asked. */
export const MARK_KINDS = ['confirmed-implausible', 'out-of-specification', 'noted'] as const;

/** A remark the program put on a value when it took it. */
export interface Mark {
  readonly kind: (typeof MARK_KINDS)[number];
  readonly field: string;
  readonly value: string;
  readonly limit: string;
}

/**
 * One row is one version of a record. The open version has no `knownUntil`; an amendment closes it and adds the next.
 * Triggers refuse any other change.
 */
export abstract class RecordVersion {
  @PrimaryColumn({ type: 'uuid' })
  id!: string;

  @PrimaryColumn({ type: 'int4' })
  version!: number;

  /** Always 1: lets a foreign key name a record by its first version, which every record has for ever. */
  @Column({ type: 'int4', generatedType: 'STORED', asExpression: '1', insert: false, update: false, nullable: true })
  one?: number;

  /** When the system learned of this version: its `recordedAt`. */
  @Column({ type: 'timestamptz' })
  knownFrom!: string;

  @Column({ type: 'timestamptz', nullable: true })
  knownUntil!: string | null;

  /** When the first version became known: what tells a late entry. The database fills it in. */
  @Column({ type: 'timestamptz' })
  enteredAt!: string;

  /** When it happened. */
  @Column({ type: 'timestamptz' })
  observedAt!: string;

  @Column({ type: 'text' })
  state!: 'active' | 'void';

  /** Who did the work. */
  @Column({ type: 'uuid' })
  doneBy!: string;

  /** Who entered it here. */
  @Column({ type: 'uuid' })
  keyedBy!: string;

  @Column({ type: 'uuid', nullable: true })
  deviceId!: string | null;

  @Column({ type: 'text' })
  source!: Source;

  /** Why this version exists; null on a first version. */
  @Column({ type: 'text', nullable: true })
  reason!: string | null;

  @Column({ type: 'jsonb' })
  marks!: readonly Mark[];

  @Column({ type: 'text' })
  requestId!: string;

  /** SHA-256 of what was sent to make this version: tells a retry from another content under the same id. */
  @Column({ type: 'text' })
  digest!: string;
}

/** A record that belongs to one casing string for good. */
export abstract class StringRecordVersion extends RecordVersion {
  @Column({ type: 'uuid' })
  stringId!: string;
}

/** The columns every record has; all others are the record's own content. */
export const VERSION_COLUMNS: ReadonlySet<string> = new Set([
  'id', 'version', 'one', 'knownFrom', 'knownUntil', 'enteredAt', 'observedAt', 'state', 'doneBy', 'keyedBy', 'deviceId',
  'source', 'reason', 'marks', 'requestId', 'digest',
]);
