import { Check, Column, ForeignKey } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';
import type { PackedLines } from './packed-lines.js';

/** What one person read from a certificate and keyed. */
@RecordTable('certificate_transcription', { certificateId: 'certificate' })
@ForeignKey('stored_file', ['fileSha256'], ['sha256'], { name: 'fk_certificate_transcription_file_sha256' })
@Check('ck_certificate_transcription_keying', 'keying in (1, 2)')
@Check('ck_certificate_transcription_file', '(file_sha256 is null) = (file_line is null)')
@IndexByName('uq_certificate_transcription_keying')
@IndexByName('ix_certificate_transcription_certificate_id')
@IndexByName('ix_certificate_transcription_coils')
@IndexByName('ix_certificate_transcription_heats')
export class CertificateTranscription extends RecordVersion {
  @Column({ type: 'uuid' })
  certificateId!: string;

  @Column({ type: 'int4' })
  keying!: number;

  @Column({ type: 'text', nullable: true })
  orderNumber!: string | null;

  @Column({ type: 'text', nullable: true })
  specification!: string | null;

  /** What it says; `linesOf` gives the lines. */
  @Column({ type: 'jsonb' })
  packedLines!: PackedLines;

  /** Normal forms of the coil numbers in it: what it is found by. */
  @Column({ type: 'text', array: true })
  coilNumbers!: readonly string[];

  /** Normal forms of the heat numbers in it. */
  @Column({ type: 'text', array: true })
  heatNumbers!: readonly string[];

  @Column({ type: 'text', nullable: true })
  note!: string | null;

  /** The file it was read from, and the line there that it begins at; null when it was keyed. */
  @Column({ type: 'text', nullable: true })
  fileSha256!: string | null;

  @Column({ type: 'int4', nullable: true })
  fileLine!: number | null;
}
