import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Choices, Id, Measured, Text, Texts } from '../http/fields.js';
import { PlacedContent, PlacedInput } from '../line/placed.dto.js';
import { RecordAnswer } from '../records/record.dto.js';
import { EXAMINATION_METHODS, STEP_OUTCOMES } from '../splice-steps/splice-step.dto.js';

/**
 * Reference reflectors by whose smallest size shown the sensitivity of an examination is stated, as the parts of ISO 10893 and
 * ISO 19232 use them (from memory): depth of a notch, diameter of a hole or wire, all in mm.
 */
export const REFLECTORS = ['notch-inside', 'notch-outside', 'through-hole', 'flat-bottom-hole', 'side-drilled-hole', 'wire', 'step-hole'] as const;
export type Reflector = (typeof REFLECTORS)[number];

/** `doneBy` is who examined. */
export class ExaminationInput extends PlacedInput {
  @Choice({ description: 'The method, as ISO 9712 abbreviates it.', example: 'UT', of: EXAMINATION_METHODS })
  method!: (typeof EXAMINATION_METHODS)[number];

  @Text({ description: 'The technique, with its revision.', example: 'UT-04 rev 2', max: 80 })
  technique!: string;

  @Choice({ description: 'The reference reflector that states the sensitivity; sizes compare within one method and one reflector.', example: 'notch-outside', of: REFLECTORS, optional: true })
  reflector?: Reflector | null;

  @Measured({ description: 'Depth of the notch, or diameter of hole or wire, that had to show; beside every reflector.', example: '0.50', min: 0.001, max: 100, unit: 'mm', optional: true })
  reflectorSizeMm?: string | null;

  @Choice({ description: 'The result.', example: 'accepted', of: STEP_OUTCOMES })
  outcome!: (typeof STEP_OUTCOMES)[number];

  @Text({ description: 'What was seen.', example: 'No indication above the reference level', max: 2000, optional: true })
  seen?: string | null;

  @Choices({
    description: 'Methods that it stands in for after a repair, where they can no longer be used: radiography of what was flat strip. Empty for most.',
    example: [], of: EXAMINATION_METHODS, max: EXAMINATION_METHODS.length,
  })
  standsInFor!: (typeof EXAMINATION_METHODS)[number][];

  @Text({ description: 'Why it may stand in; only and always where it does.', example: null, max: 2000, optional: true })
  standInReason?: string | null;

  @Id({ description: 'Who says that it may stand in, such as the level 3; never who examined.', example: null, optional: true })
  standInBy?: string | null;

  @Id({ description: 'The splice it is an examination of.', example: null, optional: true })
  spliceId?: string | null;

  @Id({ description: 'The re-join it is an examination of.', example: null, optional: true })
  rejoinId?: string | null;

  @Id({ description: 'The repair it is an examination of; at most one of splice, re-join and repair.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b48', optional: true })
  repairId?: string | null;

  @Id({ description: 'The instrument it was made with.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b42', optional: true })
  instrumentId?: string | null;

  @Texts({ description: 'Photos: SHA-256 of files sent to /api/files before.', example: [], max: 20, each: 64 })
  photoSha256s!: string[];

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The examination's own fields of an answer. */
export class ExaminationContent extends IntersectionType(
  PlacedContent,
  OmitType(ExaminationInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm', 'stringId', 'from', 'to'] as const),
) {}

export class ExaminationAnswer extends IntersectionType(RecordAnswer, ExaminationContent) {}
