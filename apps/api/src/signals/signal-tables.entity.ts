import { Check, Column, Entity, ForeignKey, Index, PrimaryColumn } from 'typeorm';

/** A column of what is sent, and the channel, in the version then known, by whose rules its readings are understood. */
export interface UploadColumn {
  readonly column: string;
  readonly channelId: string;
  readonly channelVersion: number;
}

/** Who kept it, through what, in which request. */
abstract class Kept {
  @Column({ type: 'timestamptz' })
  knownFrom!: string;

  @Column({ type: 'uuid' })
  keyedBy!: string;

  @Column({ type: 'uuid', nullable: true })
  deviceId!: string | null;

  @Column({ type: 'text' })
  requestId!: string;
}

/** What will be sent of an inspection run, in numbered parts. */
@Entity('signal_upload')
@ForeignKey('casing_string', ['stringId', 'one'], ['id', 'version'], { name: 'fk_signal_upload_string_id' })
@ForeignKey('inspection_run', ['runId', 'one'], ['id', 'version'], { name: 'fk_signal_upload_run_id' })
@ForeignKey('person', ['keyedBy', 'one'], ['id', 'version'], { name: 'fk_signal_upload_keyed_by' })
@Check('ck_signal_upload_position', "position in ('counter', 'time') and decimals between 0 and 6")
@Index('ix_signal_upload_string_id', ['stringId'])
@Index('ix_signal_upload_run_id', ['runId'])
export class SignalUpload extends Kept {
  @PrimaryColumn({ type: 'uuid', primaryKeyConstraintName: 'pk_signal_upload' })
  id!: string;

  @Column({ type: 'int4', generatedType: 'STORED', asExpression: '1', insert: false, update: false, nullable: true })
  one?: number;

  @Column({ type: 'uuid' })
  stringId!: string;

  @Column({ type: 'uuid' })
  runId!: string;

  /** Name of the column that places each sample. */
  @Column({ type: 'text' })
  positionColumn!: string;

  /** What the place of a sample is read as: a counter's reading × 10^`decimals`, or µs since 1970 UTC. */
  @Column({ type: 'text' })
  position!: 'counter' | 'time';

  @Column({ type: 'int2' })
  decimals!: number;

  @Column({ type: 'jsonb' })
  columns!: readonly UploadColumn[];

  /** Of the request that opened it, so that a repeat is known from another one under the same id. */
  @Column({ type: 'text' })
  digest!: string;
}

/** Says that all parts of an upload are here. */
@Entity('signal_upload_end')
@ForeignKey('signal_upload', ['uploadId'], ['id'], { name: 'fk_signal_upload_end_upload_id' })
@Check('ck_signal_upload_end_parts', 'part_count >= 1')
export class SignalUploadEnd extends Kept {
  @PrimaryColumn({ type: 'uuid', primaryKeyConstraintName: 'pk_signal_upload_end' })
  uploadId!: string;

  @Column({ type: 'int4' })
  partCount!: number;
}

/** One part as it was taken. */
@Entity('signal_part')
@ForeignKey('signal_upload', ['uploadId'], ['id'], { name: 'fk_signal_part_upload_id' })
@Check('ck_signal_part_no', 'part_no between 1 and 1000000')
@Check('ck_signal_part_sha256', "sha256 ~ '^[0-9a-f]{64}$'")
@Check('ck_signal_part_samples', 'samples >= 1 and narrowed >= 0 and size_bytes >= 1')
@Check('ck_signal_part_direction', "direction in ('forward', 'backward')")
@Check('ck_signal_part_time', 'from_us <= to_us')
export class SignalPart extends Kept {
  @PrimaryColumn({ type: 'uuid', primaryKeyConstraintName: 'pk_signal_part' })
  uploadId!: string;

  @PrimaryColumn({ type: 'int4', primaryKeyConstraintName: 'pk_signal_part' })
  partNo!: number;

  @Column({ type: 'text' })
  sha256!: string;

  @Column({ type: 'int4' })
  sizeBytes!: number;

  @Column({ type: 'int4' })
  samples!: number;

  /** Values that came in double precision and are none of single precision: kept as the nearest. */
  @Column({ type: 'int4' })
  narrowed!: number;

  @Column({ type: 'text' })
  direction!: 'forward' | 'backward';

  /** The sender's clock at the first and the last sample, µs since 1970 UTC. */
  @Column({ type: 'int8' })
  fromUs!: string;

  @Column({ type: 'int8' })
  toUs!: string;
}

/** Level 0: a block of samples by its number. Above: a page of cells by the number of its first. See `libs/signals`. */
@Entity('signal_block')
@Check('ck_signal_block_level', 'level between 0 and 20 and block_no >= 0')
@Check('ck_signal_block_items', 'items between 1 and 4096 and unread between 0 and items')
@Check('ck_signal_block_time', 'from_us <= to_us')
export class SignalBlock {
  @PrimaryColumn({ type: 'uuid', primaryKeyConstraintName: 'pk_signal_block' })
  stringId!: string;

  @PrimaryColumn({ type: 'uuid', primaryKeyConstraintName: 'pk_signal_block' })
  channelId!: string;

  @PrimaryColumn({ type: 'int2', primaryKeyConstraintName: 'pk_signal_block' })
  level!: number;

  @PrimaryColumn({ type: 'int8', primaryKeyConstraintName: 'pk_signal_block' })
  blockNo!: string;

  @Column({ type: 'uuid' })
  runId!: string;

  @Column({ type: 'uuid' })
  uploadId!: string;

  @Column({ type: 'int4' })
  partNo!: number;

  @Column({ type: 'timestamptz' })
  knownFrom!: string;

  /** Samples of a block, cells of a page. */
  @Column({ type: 'int4' })
  items!: number;

  @Column({ type: 'int8' })
  firstPosition!: string;

  @Column({ type: 'int8' })
  lastPosition!: string;

  @Column({ type: 'int8' })
  fromUs!: string;

  @Column({ type: 'int8' })
  toUs!: string;

  /** Samples that say nothing of the pipe (missing, stuck, implausible); cells without samples. */
  @Column({ type: 'int4' })
  unread!: number;

  @Column({ type: 'bytea' })
  body!: Buffer;
}

/** The blocks of a string that were taken out of the database into a file, and came back or not. */
@Entity('signal_detachment')
@Check('ck_signal_detachment_sha256', "sha256 ~ '^[0-9a-f]{64}$'")
@Index('uq_signal_detachment_standing', ['stringId'], { unique: true, where: 'attached_again is null' })
export class SignalDetachment {
  @PrimaryColumn({ type: 'uuid', primaryKeyConstraintName: 'pk_signal_detachment' })
  stringId!: string;

  @PrimaryColumn({ type: 'timestamptz', primaryKeyConstraintName: 'pk_signal_detachment' })
  knownFrom!: string;

  @Column({ type: 'text' })
  fileName!: string;

  @Column({ type: 'text' })
  sha256!: string;

  @Column({ type: 'int8' })
  blockRows!: string;

  @Column({ type: 'timestamptz', nullable: true })
  attachedAgain!: string | null;
}
