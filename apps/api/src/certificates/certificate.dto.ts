import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Day, Text } from '../http/fields.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';
import { DOCUMENT_TYPES, type DocumentType } from './document-type.js';

export class CertificateInput extends RecordInput {
  @Text({ description: 'The number as printed, unique for its issuer.', example: 'TS-2026-00417', max: 60 })
  number!: string;

  @Text({ description: 'Who issued it.', example: 'Tarnwick Steelworks', max: 120 })
  issuer!: string;

  @Choice({ description: 'Type of inspection document of EN 10204.', example: '3.1', of: DOCUMENT_TYPES })
  documentType!: DocumentType;

  @Day({ description: 'The day printed on it.', example: '2026-01-22' })
  issuedOn!: string;

  @Text({ description: 'Anything else worth knowing.', example: 'Covers coils LM-01 to LM-04', max: 2000, optional: true })
  note?: string | null;
}

/** The certificate's own fields of an answer. */
export class CertificateContent extends OmitType(
  CertificateInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const,
) {}

export class CertificateAnswer extends IntersectionType(RecordAnswer, CertificateContent) {}
