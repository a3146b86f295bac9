import { Check, Column, ForeignKey } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';
import type { SUBJECTS } from './document.dto.js';

/** Says of what a stored file is the picture or the original. */
@RecordTable('document', { certificateId: 'certificate', coilId: 'coil' })
@ForeignKey('stored_file', ['fileSha256'], ['sha256'], { name: 'fk_document_file_sha256' })
@Check('ck_document_about', "about in ('certificate', 'coil-tag', 'other')")
@Check('ck_document_subject', 'certificate_id is not null or coil_id is not null')
@Check('ck_document_certificate', "about <> 'certificate' or certificate_id is not null")
@IndexByName('ix_document_file_sha256')
@IndexByName('ix_document_certificate_id')
@IndexByName('ix_document_coil_id')
export class Document extends RecordVersion {
  @Column({ type: 'text' })
  fileSha256!: string;

  @Column({ type: 'text' })
  about!: (typeof SUBJECTS)[number];

  @Column({ type: 'text' })
  fileName!: string;

  @Column({ type: 'uuid', nullable: true })
  certificateId!: string | null;

  @Column({ type: 'uuid', nullable: true })
  coilId!: string | null;

  @Column({ type: 'boolean' })
  isOriginal!: boolean;

  @Column({ type: 'int4', nullable: true })
  pageCount!: number | null;

  @Column({ type: 'text', nullable: true })
  language!: string | null;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
