import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Id, Measured, Part, Parts, Text } from '../http/fields.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';
import { FlaringPart, FlatteningPart, ReverseBendPart, ReverseFlatteningPart } from './test-content.dto.js';

export const TEST_KINDS = ['tensile', 'flattening', 'flaring', 'reverse-bend', 'macro', 'hardness'] as const;
export type TestKind = (typeof TEST_KINDS)[number];
export const TEST_OUTCOMES = ['pass', 'fail', 'void'] as const;

/** A value that was read, beside the limits that its method or specification gives it. */
export class TestReadingPart {
  @Text({ description: 'What was read.', example: 'weld metal, position 1', max: 120 })
  name!: string;

  @Text({ description: 'The digits as printed.', example: '212', max: 30 })
  printed!: string;

  @Text({ description: 'The unit of the value and its limits.', example: 'HV10', max: 20 })
  unit!: string;

  @Measured({ description: 'The least that is allowed.', example: null, min: -1e6, max: 1e6, unit: 'in its unit', optional: true })
  min?: string | null;

  @Measured({ description: 'The most that is allowed.', example: '250', min: -1e6, max: 1e6, unit: 'in its unit', optional: true })
  max?: string | null;
}

/**
 * `doneBy` made the test, or had it made; `observedAt` is when. Readings are compared with their limits unrounded, limits
 * included (simple acceptance).
 */
export class DestructiveTestInput extends StringRecordInput {
  @Id({ description: 'The sample.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b51' })
  testSampleId!: string;

  @Choice({ description: 'Which test.', example: 'hardness', of: TEST_KINDS })
  kind!: TestKind;

  @Text({ description: 'Method standard.', example: 'ISO 6507-1', max: 120 })
  method!: string;

  @Text({ description: 'Who tested.', example: 'Site laboratory', max: 120 })
  laboratory!: string;

  @Parts({
    description: 'What was read; readings or `stated`, and a void test may have neither.', of: () => TestReadingPart, min: 1, max: 200, optional: true,
    example: [
      { name: 'weld metal, position 1', printed: '212', unit: 'HV10', min: null, max: '250' }, { name: 'heat-affected zone, position 2', printed: '231', unit: 'HV10', min: null, max: '250' },
    ],
  })
  readings?: TestReadingPart[] | null;

  @Text({ description: 'What was seen, where nothing was read.', example: null, max: 2000, optional: true })
  stated?: string | null;

  @Part({ description: 'How a flattening was made, and what it came to.', of: () => FlatteningPart, optional: true, example: null })
  flattening?: FlatteningPart | null;

  @Part({ description: 'How a flaring was made, and what it came to.', of: () => FlaringPart, optional: true, example: null })
  flaring?: FlaringPart | null;

  @Part({ description: 'What came of a reverse bend.', of: () => ReverseBendPart, optional: true, example: null })
  reverseBend?: ReverseBendPart | null;

  @Part({ description: 'What came of a reverse flattening: a flattening, or a reverse bend, of a tube slit and opened.', of: () => ReverseFlatteningPart, optional: true, example: null })
  reverseFlattening?: ReverseFlatteningPart | null;

  @Choice({ description: 'Void: the test itself went wrong, and counts for nothing.', example: 'pass', of: TEST_OUTCOMES })
  outcome!: (typeof TEST_OUTCOMES)[number];

  @Text({ description: 'Why it is void; only then.', example: null, max: 2000, min: 3, optional: true })
  voidReason?: string | null;

  @Id({ description: 'The result, of the same test, that it was made after and because of: the one it retests, or an earlier retest of it.', example: null, optional: true })
  followsTestId?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The test's own fields of an answer. */
export class DestructiveTestContent extends OmitType(DestructiveTestInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class DestructiveTestAnswer extends IntersectionType(RecordAnswer, DestructiveTestContent) {}
