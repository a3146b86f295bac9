import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Id, Parts, Sha256, Text, Whole, YesNo } from '../http/fields.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';
import { PaperLinePart } from './printed-value.dto.js';

/** A certificate has at most so many lines; our own choice. */
export const MOST_LINES = 1000;

export class CertificateTranscriptionInput extends RecordInput {
  @Id({ description: 'The certificate.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b06' })
  certificateId!: string;

  @Whole({ description: '1: the first keying; 2: the second, by another person who did not look at the first.', example: 1, min: 1, max: 2, unit: '' })
  keying!: number;

  @Text({ description: 'The order number printed.', example: 'PO-2025-118', max: 60, optional: true })
  orderNumber?: string | null;

  @Text({ description: 'The specification and revision printed.', example: 'STS-12 rev 1', max: 120, optional: true })
  specification?: string | null;

  @Parts({ description: 'What it says, coil by coil.', of: () => PaperLinePart, min: 1, max: MOST_LINES })
  lines!: PaperLinePart[];

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The transcription's own fields of an answer. */
export class CertificateTranscriptionContent extends OmitType(
  CertificateTranscriptionInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const,
) {}

export class CertificateTranscriptionAnswer extends IntersectionType(RecordAnswer, CertificateTranscriptionContent) {
  @Sha256({ description: 'The file it was read from; absent when it was keyed.', example: null, optional: true })
  fileSha256!: string | null;

  @Whole({ description: 'The line of that file it begins at.', example: null, min: 1, max: 100_000_000, unit: '', optional: true })
  fileLine!: number | null;
}

/** One place in which the two keyings differ. */
export class KeyingDifference {
  @Text({ description: 'Where: the coil or heat, and what.', example: 'LM-02, heat H40711: C, heat analysis', max: 300 })
  where!: string;

  @Text({ description: 'What the first keying says; null for nothing.', example: '0.085 %', max: 200, optional: true })
  first!: string | null;

  @Text({ description: 'What the second keying says; null for nothing.', example: '0.058 %', max: 200, optional: true })
  second!: string | null;
}

export const KEYING_STATES = ['not-keyed', 'keyed-once', 'keyings-differ', 'verified'] as const;

/** How the two keyings of a certificate compare. Neither is chosen: the paper is read again and one of them amended. */
export class VerificationAnswer {
  @Id({ description: 'The certificate.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b06' })
  certificateId!: string;

  @Choice({ description: 'verified: two people keyed the same.', example: 'keyings-differ', of: KEYING_STATES })
  state!: (typeof KEYING_STATES)[number];

  @Id({ description: 'The first keying.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b22', optional: true })
  firstId!: string | null;

  @Id({ description: 'The second keying.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b23', optional: true })
  secondId!: string | null;

  @YesNo({ description: 'Values were amended after they were first keyed.', example: false })
  isCorrected!: boolean;

  @Parts({ description: 'Where they differ.', of: () => KeyingDifference, max: 100_000 })
  differences!: KeyingDifference[];
}
