import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Id, Text } from '../http/fields.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';

export const LINK_ROLES = ['mill', 'slitter', 'retest'] as const;

/** A further certificate of a coil: the mill's for its master coil, the slitter's, a retest. */
export class CertificateLinkInput extends RecordInput {
  @Id({ description: 'The certificate.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b06' })
  certificateId!: string;

  @Id({ description: 'The coil.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b07' })
  coilId!: string;

  @Choice({ description: 'Whose paper it is.', example: 'mill', of: LINK_ROLES })
  role!: (typeof LINK_ROLES)[number];

  @Text({ description: 'The number under which it names the coil, as printed.', example: 'M-5117', max: 60 })
  namedAs!: string;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The link's own fields of an answer. */
export class CertificateLinkContent extends OmitType(CertificateLinkInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class CertificateLinkAnswer extends IntersectionType(RecordAnswer, CertificateLinkContent) {}
