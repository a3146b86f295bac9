import { CHECK_OUTCOMES, type TestCheck } from '../destructive-tests/test-checks.js';
import { TEST_KINDS, TEST_OUTCOMES, type TestKind } from '../destructive-tests/destructive-test.dto.js';
import { Choice, Computed, Part, Parts, Text, Texts, When, YesNo } from '../http/fields.js';
import { RecordLink } from '../trace/trace.dto.js';

/** One demand on a test. */
export class TestCheckAnswer {
  @Text({ description: 'The field of the record that it is about.', example: 'flattening.plateWidthMm', max: 200 })
  field!: string;

  @Text({ description: 'What is checked.', example: 'plate width', max: 200 })
  name!: string;

  @Choice({ description: 'What nobody recorded is not computable: neither met nor broken.', example: 'met', of: CHECK_OUTCOMES })
  outcome!: TestCheck['outcome'];

  @Text({ description: 'What was found.', example: '250 mm', max: 1000, optional: true })
  found!: string | null;

  @Text({ description: 'What is demanded.', example: 'at least 1.6 D = 203.2 mm', max: 1000, optional: true })
  demanded!: string | null;

  @Text({ description: 'In words; of what is not computable, why.', example: 'plate width 250 mm; demanded: at least 1.6 D = 203.2 mm', max: 20_000 })
  because!: string;

  @Text({ description: 'Where the demand comes from.', example: 'ISO 8492:2013 (from an extract of it)', max: 400, optional: true })
  source!: string | null;
}

/** How far a test deformed the steel. */
export class TestStrainAnswer {
  @Text({ description: 'What it is.', example: 'outer fibre strain', max: 200 })
  name!: string;

  @Computed({ description: 'The figure; null where it is not computable.', example: 0.0706, optional: true })
  value!: number | null;

  @Text({ description: 'Its unit.', example: 'mm per mm', max: 40 })
  unit!: string;

  @Text({ description: 'The formula and its source, or why it is not computable.', example: 'e = t (D − H) / (D (H − t))', max: 1000 })
  because!: string;
}

/** A flare beside the expansion of the fold; advisory. */
export class FlareAgainstFoldAnswer {
  @YesNo({ description: 'Widened by at least as much as the fold does, without a crack; null where it is not computable.', example: true, optional: true })
  reachesFold!: boolean | null;

  @Computed({ description: 'Expansion of the outside diameter at the flare, %.', example: 20, optional: true })
  expansionPercent!: number | null;

  @Computed({ description: 'Expansion of the mean diameter at the fold, (κ − 1) × 100, %.', example: 16, optional: true })
  foldExpansionPercent!: number | null;

  @Text({ description: 'In words, or why it is not computable.', example: 'the flare reaches the fold\'s expansion. Advisory.', max: 1000 })
  because!: string;

  @Text({ description: 'The rule.', example: 'D_flared/D is at least κ', max: 400, optional: true })
  rule!: string | null;

  @Texts({ description: 'To be shown with it.', example: ['Advisory. The responsible engineer decides.'], max: 10, each: 500 })
  cautions!: string[];
}

/** A destructive test beside everything that is demanded of it. */
export class DestructiveTestChecksAnswer {
  @Part({ description: 'The test.', of: () => RecordLink })
  test!: RecordLink;

  @Part({ description: 'Its sample.', of: () => RecordLink })
  sample!: RecordLink;

  @When({ description: 'As known at; null: now.', example: null, optional: true })
  asKnownAt!: string | null;

  @Choice({ description: 'Which test.', example: 'flattening', of: TEST_KINDS })
  kind!: TestKind;

  @Choice({ description: 'What the laboratory stated.', example: 'pass', of: TEST_OUTCOMES })
  outcome!: (typeof TEST_OUTCOMES)[number];

  @Parts({ description: 'Every check: of how it was made, what it came to, and its readings.', of: () => TestCheckAnswer, max: 500 })
  checks!: TestCheckAnswer[];

  @Computed({ description: 'Checks that are not met.', example: 0 })
  notMet!: number;

  @Computed({ description: 'Checks that are not computable: they are open, not passed.', example: 1 })
  notComputable!: number;

  @Parts({ description: 'Strains, of flattening and flaring.', of: () => TestStrainAnswer, max: 10 })
  strains!: TestStrainAnswer[];

  @Part({ description: 'The flare beside the fold, of flaring alone.', of: () => FlareAgainstFoldAnswer, optional: true })
  fold!: FlareAgainstFoldAnswer | null;

  @Text({ description: 'How the stated outcome stands to the checks.', example: 'stated as pass; 1 check is not computable', max: 400 })
  words!: string;

  @Texts({ description: 'What to bear in mind.', example: ['A check that is met does not prove the pipe.'], max: 10, each: 500 })
  cautions!: string[];
}
