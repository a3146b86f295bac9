import { Check, Column, Entity, ForeignKey, PrimaryColumn } from 'typeorm';

/** A file by its content: the same bytes are the same file, whoever brings them and under whatever name. */
@Entity('stored_file')
@Check('ck_stored_file_sha256', "sha256 ~ '^[0-9a-f]{64}$'")
@Check('ck_stored_file_size', 'size_bytes > 0 and part_count > 0')
export class StoredFile {
  @PrimaryColumn({ type: 'text', primaryKeyConstraintName: 'pk_stored_file' })
  sha256!: string;

  @Column({ type: 'text' })
  mediaType!: string;

  @Column({ type: 'int8' })
  sizeBytes!: string;

  @Column({ type: 'int4' })
  partCount!: number;

  @Column({ type: 'timestamptz' })
  storedAt!: string;

  @Column({ type: 'uuid' })
  storedBy!: string;
}

/** A stretch of a file's bytes, so that a file is written and read as a stream. */
@Entity('stored_file_part')
@ForeignKey('stored_file', ['sha256'], ['sha256'], { name: 'fk_stored_file_part_sha256' })
export class StoredFilePart {
  @PrimaryColumn({ type: 'text', primaryKeyConstraintName: 'pk_stored_file_part' })
  sha256!: string;

  @PrimaryColumn({ type: 'int4', primaryKeyConstraintName: 'pk_stored_file_part' })
  partNo!: number;

  @Column({ type: 'bytea' })
  bytes!: Buffer;
}
