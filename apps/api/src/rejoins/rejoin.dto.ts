import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Id, Text } from '../http/fields.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';

export const REJOIN_VERDICTS = ['open', 'accepted', 'rejected'] as const;

export class RejoinInput extends StringRecordInput {
  @Id({ description: 'The cut-out, of the same string.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b09' })
  cutOutId!: string;

  @Text({ description: 'The welding procedure and its revision.', example: 'Pipe weld procedure PW-2 rev 1', max: 200 })
  procedure!: string;

  @Choice({ description: 'The verdict on the weld.', example: 'accepted', of: REJOIN_VERDICTS })
  verdict!: (typeof REJOIN_VERDICTS)[number];

  @Text({ description: 'How the weld was examined, and what was found.', example: 'Radiography, no indication', max: 2000, optional: true })
  examination?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: 'Outside bead dressed flush', max: 2000, optional: true })
  note?: string | null;
}

/** The re-join's own fields of an answer. */
export class RejoinContent extends OmitType(RejoinInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class RejoinAnswer extends IntersectionType(RecordAnswer, RejoinContent) {}
