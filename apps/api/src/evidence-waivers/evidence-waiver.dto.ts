import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Id, ItemCode, Text } from '../http/fields.js';
import { PlacedContent, PlacedInput } from '../line/placed.dto.js';
import { RecordAnswer } from '../records/record.dto.js';

/** A waiver is agreed before; a concession after, of what does not conform. */
export const WAIVER_BASES = ['waiver', 'concession'] as const;
export type WaiverBasis = (typeof WAIVER_BASES)[number];

/** An item of a control plan was agreed not to be needed on this pipe. */
export class EvidenceWaiverInput extends PlacedInput {
  @ItemCode({ description: 'The item: its code in a control plan of the string.', example: 'P-1' })
  itemCode!: string;

  @Choice({
    description: 'waiver: agreed before, for points and for what is not made here; concession: agreed after, under a nonconformance.', example: 'waiver', of: WAIVER_BASES,
  })
  basis!: WaiverBasis;

  @Text({ description: 'Who agreed, by name and party.', example: 'Edda Voss, for the customer', max: 200 })
  agreedBy!: string;

  @Text({ description: 'The document or message in which it was agreed.', example: 'Letter of 1 March 2026, item 3', max: 300 })
  agreement!: string;

  @Text({ description: 'Why it was agreed.', example: 'The witness could not travel; photographs were sent instead', max: 2000 })
  grounds!: string;

  @Id({
    description: 'The nonconformance whose disposition is the use as it is, under concession; only and always of a concession.',
    example: null, optional: true,
  })
  nonconformanceId?: string | null;
}

/** The waiver's own fields of an answer. */
export class EvidenceWaiverContent extends IntersectionType(
  PlacedContent,
  OmitType(EvidenceWaiverInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm', 'stringId', 'from', 'to'] as const),
) {}

export class EvidenceWaiverAnswer extends IntersectionType(RecordAnswer, EvidenceWaiverContent) {}
