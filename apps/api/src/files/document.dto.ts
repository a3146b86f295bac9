import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Id, Parts, Sha256, Text, Whole, YesNo } from '../http/fields.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';

export const SUBJECTS = ['certificate', 'coil-tag', 'other'] as const;

export class DocumentInput extends RecordInput {
  @Sha256({ description: 'The file, as answered when it was sent to /api/files.', example: 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855' })
  fileSha256!: string;

  @Choice({ description: 'What it shows.', example: 'certificate', of: SUBJECTS })
  about!: (typeof SUBJECTS)[number];

  @Text({ description: 'The name it came under.', example: 'TS-2026-00417.pdf', max: 200 })
  fileName!: string;

  @Id({ description: 'The certificate it is of.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b06', optional: true })
  certificateId?: string | null;

  @Id({ description: 'The coil it is of.', example: null, optional: true })
  coilId?: string | null;

  @YesNo({ description: 'true: of the original; false: of a copy.', example: true })
  isOriginal!: boolean;

  @Whole({ description: 'Its pages.', example: 2, min: 1, max: 10_000, unit: 'pages', optional: true })
  pageCount?: number | null;

  @Text({ description: 'Its language.', example: 'en', max: 35, optional: true })
  language?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The document's own fields of an answer. */
export class DocumentContent extends OmitType(DocumentInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class DocumentAnswer extends IntersectionType(RecordAnswer, DocumentContent) {}

/** Where a file is attached. */
export class Attachment {
  @Id({ description: 'The document record.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b24' })
  documentId!: string;

  @Text({ description: 'The name it came under there.', example: 'TS-2026-00417.pdf', max: 200 })
  fileName!: string;

  @Id({ description: 'The certificate.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b06', optional: true })
  certificateId!: string | null;

  @Id({ description: 'The coil.', example: null, optional: true })
  coilId!: string | null;
}

/** A file as it was taken. */
export class StoredFileAnswer {
  @Sha256({ description: 'SHA-256 of its bytes: its name here.', example: 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855' })
  sha256!: string;

  @Text({ description: 'What its content shows it to be.', example: 'application/pdf', max: 100 })
  mediaType!: string;

  @Whole({ description: 'Its size.', example: 48_213, min: 1, max: Number.MAX_SAFE_INTEGER, unit: 'bytes' })
  sizeBytes!: number;

  @YesNo({ description: 'false: these very bytes were here already.', example: true })
  isNew!: boolean;

  @Parts({ description: 'Where these bytes are attached already.', of: () => Attachment, max: 1000, example: [] })
  attachedTo!: Attachment[];
}
