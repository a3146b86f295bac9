import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Id, Text } from '../http/fields.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';

/** A hold was lifted. `doneBy` lifted it: another person than the one who set it, unless `ownHoldBecause` says why not. */
export class HoldLiftingInput extends StringRecordInput {
  @Id({ description: 'Who lifts it; the signed-in person when absent.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b0a', optional: true })
  override doneBy?: string;

  @Id({ description: 'The hold, one of the string that nobody lifted yet.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b90' })
  holdId!: string;

  @Text({ description: 'Why.', example: 'Extent measured: 212.000 to 212.600 m alone, and repaired', max: 2000 })
  grounds!: string;

  @Text({ description: 'On what it was lifted: records, documents, by number.', example: 'NC-0007, examination of 2 March 2026 11:40', max: 2000 })
  evidence!: string;

  @Text({ description: 'Why the one who set the hold lifts it; needed where it is the same person, and shown with it.', example: null, max: 500, optional: true })
  ownHoldBecause?: string | null;
}

/** The lifting's own fields of an answer. */
export class HoldLiftingContent extends OmitType(HoldLiftingInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class HoldLiftingAnswer extends IntersectionType(RecordAnswer, HoldLiftingContent) {}
