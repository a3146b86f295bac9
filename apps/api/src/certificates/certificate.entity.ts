import { Column } from 'typeorm';
import { IndexByName, RecordTable, RecordVersion } from '#libs/persistence';
import type { DocumentType } from './document-type.js';

/** A document that says what strip was delivered. */
@RecordTable('certificate')
@IndexByName('uq_certificate_number')
@IndexByName('ix_certificate_number_trgm')
export class Certificate extends RecordVersion {
  @Column({ type: 'text' })
  number!: string;

  @Column({ type: 'text' })
  issuer!: string;

  @Column({ type: 'text' })
  documentType!: DocumentType;

  @Column({ type: 'date' })
  issuedOn!: string;

  @Column({ type: 'text', nullable: true })
  note!: string | null;
}
