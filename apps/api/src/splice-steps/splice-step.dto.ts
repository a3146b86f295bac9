import { IntersectionType, OmitType } from '@nestjs/swagger';
import { UNIT_NAMES } from '#libs/units';
import { Choice, Id, Measured, Parts, Sha256, Text, Texts } from '../http/fields.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';

/** In the order in which a splice goes through them. */
export const SPLICE_STAGES = ['preparation', 'flat-strip-release', 'after-forming', 'station-sighting'] as const;
export const STEP_OUTCOMES = ['accepted', 'held', 'rejected'] as const;

/** What is measured of a splice. Lengths in a unit of length, hardness on its scale. */
export const MEASURED_OF_SPLICE = [
  'crop-leaving', 'crop-entering', 'gap', 'high-low', 'squareness', 'thickness-over-weld', 'planish-reduction',
  'hardness-weld', 'hardness-haz', 'hardness-parent-leaving', 'hardness-parent-entering',
] as const;

/** Examination methods, as ISO 9712 abbreviates them; RT is possible on flat strip only. */
export const EXAMINATION_METHODS = ['VT', 'RT', 'UT', 'MT', 'PT', 'ET'] as const;

const STEP_UNITS = [...UNIT_NAMES, 'HV10', 'HV5', 'HRC', 'HBW'] as const;

/** A reading with its limits. */
export class StepReadingPart {
  @Choice({ description: 'What was measured.', example: 'high-low', of: MEASURED_OF_SPLICE })
  measured!: (typeof MEASURED_OF_SPLICE)[number];

  @Text({ description: 'The digits as shown.', example: '0.2', max: 30 })
  printed!: string;

  @Choice({ description: 'The unit or hardness scale.', example: 'mm', of: STEP_UNITS })
  unit!: string;

  @Measured({ description: 'The least that is asked for.', example: null, min: -1e6, max: 1e6, unit: 'in its unit', optional: true })
  min?: string | null;

  @Measured({ description: 'The most that is allowed.', example: '0.5', min: -1e6, max: 1e6, unit: 'in its unit', optional: true })
  max?: string | null;

  @Id({ description: 'The instrument, when it is on record.', example: null, optional: true })
  instrumentId?: string | null;
}

/** One examination of the weld. */
export class ExaminationPart {
  @Choice({ description: 'The method.', example: 'RT', of: EXAMINATION_METHODS })
  method!: (typeof EXAMINATION_METHODS)[number];

  @Text({ description: 'The technique, with its revision.', example: 'RT-02 rev 3', max: 80 })
  technique!: string;

  @Choice({ description: 'The result.', example: 'accepted', of: STEP_OUTCOMES })
  outcome!: (typeof STEP_OUTCOMES)[number];

  @Id({ description: 'Who examined. Absent it is taken to be who did the step, and stays open in the check of it.', example: null, optional: true })
  personId?: string | null;

  @Text({ description: 'What was seen.', example: null, max: 1000, optional: true })
  seen?: string | null;
}

export class SpliceStepInput extends StringRecordInput {
  @Id({ description: 'The splice.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b0c' })
  spliceId!: string;

  @Choice({
    description: 'preparation of the ends; flat-strip-release: the last chance for radiography; after-forming; station-sighting: seen at a station of the line.',
    example: 'flat-strip-release', of: SPLICE_STAGES,
  })
  stage!: (typeof SPLICE_STAGES)[number];

  @Choice({ description: 'The outcome.', example: 'accepted', of: STEP_OUTCOMES })
  outcome!: (typeof STEP_OUTCOMES)[number];

  @Text({ description: 'The station where it was seen; only and always for a sighting.', example: null, max: 60, optional: true })
  station?: string | null;

  @Parts({ description: 'What was measured.', of: () => StepReadingPart, max: 100, example: [{ measured: 'high-low', printed: '0.2', unit: 'mm', max: '0.5' }] })
  readings!: StepReadingPart[];

  @Parts({ description: 'How the weld was examined.', of: () => ExaminationPart, max: 30, example: [{ method: 'RT', technique: 'RT-02 rev 3', outcome: 'accepted' }] })
  examinations!: ExaminationPart[];

  @Texts({ description: 'Coupons that were cut.', example: ['S-3-C1'], max: 20, each: 60 })
  coupons!: string[];

  @Sha256({ description: 'The chart of a heat treatment: SHA-256 of a file sent to /api/files before.', example: null, optional: true })
  chartSha256?: string | null;

  @Texts({ description: 'Photos: SHA-256 of files sent to /api/files before.', example: [], max: 20, each: 64 })
  photoSha256s!: string[];

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The step's own fields of an answer. */
export class SpliceStepContent extends OmitType(SpliceStepInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class SpliceStepAnswer extends IntersectionType(RecordAnswer, SpliceStepContent) {}
