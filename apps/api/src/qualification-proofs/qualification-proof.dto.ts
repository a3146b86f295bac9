import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Day, Id, Text } from '../http/fields.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';

export const PROOFS = ['confirmation', 'authorisation', 'vision-test', 'withdrawal'] as const;

/** What keeps a qualification valid, or ends it. */
export class QualificationProofInput extends RecordInput {
  @Id({ description: 'The person.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b02' })
  personId!: string;

  @Id({ description: 'The qualification; only a vision test may name none, and holds for all of the person.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b40', optional: true })
  qualificationId?: string | null;

  @Choice({
    description:
      'confirmation: the person worked within its scope; authorisation: by the employer; vision-test: near vision was tested; '
      + 'withdrawal: it is not valid from that day on.',
    example: 'confirmation', of: PROOFS,
  })
  proof!: (typeof PROOFS)[number];

  @Day({ description: 'The day of it, at its place; of an authorisation the first one.', example: '2025-12-01' })
  onDay!: string;

  @Day({ description: 'Last day of an authorisation; open when absent.', example: null, optional: true })
  untilDay?: string | null;

  @Text({ description: 'Who gave it: coordinator, employer, examiner.', example: 'Welding coordinator', max: 120 })
  givenBy!: string;

  @Text({ description: 'Why it was withdrawn; only and always then.', example: null, max: 1000, optional: true })
  reasonGiven?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The proof's own fields of an answer. */
export class QualificationProofContent extends OmitType(QualificationProofInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class QualificationProofAnswer extends IntersectionType(RecordAnswer, QualificationProofContent) {}
