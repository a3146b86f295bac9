import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Id, Parts, Text, Whole, YesNo } from '../http/fields.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';

/** What is said to one item of a handover. */
export class AcceptedItemPart {
  @Whole({ description: 'Which item, by its place in the handover, from 1.', example: 1, min: 1, max: 200, unit: 'items' })
  item!: number;

  @YesNo({ description: 'It was taken over.', example: true })
  accepted!: boolean;

  @Text({ description: 'What is said to it; an item that is not accepted needs it.', example: 'Seen on the pipe', max: 2000, optional: true })
  words?: string | null;
}

/** `doneBy` accepts, by name: never the one who gave the handover. Whoever is signed in keys it. */
export class HandoverAcceptanceInput extends StringRecordInput {
  @Id({ description: 'Who accepts; the signed-in person when absent.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b0a', optional: true })
  override doneBy?: string;

  @Id({ description: 'The handover.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b52' })
  handoverId!: string;

  @Whole({ description: 'The version of it that was read and is accepted.', example: 1, min: 1, max: 1_000_000, unit: 'versions' })
  handoverVersion!: number;

  @Parts({
    description: 'Every item of the handover, once.', of: () => AcceptedItemPart, max: 200,
    example: [{ item: 1, accepted: true, words: 'Seen on the pipe' }, { item: 2, accepted: false, words: 'Not said until when' }],
  })
  items!: AcceptedItemPart[];

  @Text({ description: 'Anything else worth knowing.', example: 'Read out at the line', max: 4000, optional: true })
  note?: string | null;
}

/** The acceptance's own fields of an answer. */
export class HandoverAcceptanceContent extends OmitType(HandoverAcceptanceInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class HandoverAcceptanceAnswer extends IntersectionType(RecordAnswer, HandoverAcceptanceContent) {}
