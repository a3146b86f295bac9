import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Day, Id, Measured, Parts, Text, Texts, Whole, YesNo } from '../http/fields.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';

export const SUBJECTS = ['welding', 'non-destructive-testing', 'inspection'] as const;
export const LATE_CONFIRMATIONS = ['revives', 'ends'] as const;

/** What the qualification limits: a variable to listed values, or to a range with both ends included. */
export class ScopePart {
  @Text({ description: 'The variable.', example: 'thickness', max: 60 })
  name!: string;

  @Texts({ description: 'The values it is limited to, letter for letter; absent for a range.', example: null, max: 50, each: 60, optional: true })
  values?: string[] | null;

  @Measured({ description: 'Least value of a range.', example: '3', min: -1e6, max: 1e6, unit: 'in its unit', optional: true })
  min?: string | null;

  @Measured({ description: 'Greatest value of a range.', example: '12', min: -1e6, max: 1e6, unit: 'in its unit', optional: true })
  max?: string | null;

  @Text({ description: 'The unit of a range.', example: 'mm', max: 20, optional: true })
  unit?: string | null;
}

export class QualificationInput extends RecordInput {
  @Id({ description: 'Whose it is.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b02' })
  personId!: string;

  @Text({ description: 'Number of its certificate; each number of a person once.', example: 'WO-2211', max: 60 })
  number!: string;

  @Text({ description: 'The standard it was examined by.', example: 'ISO 14732', max: 80 })
  standard!: string;

  @Choice({ description: 'What it is for.', example: 'welding', of: SUBJECTS })
  subject!: (typeof SUBJECTS)[number];

  @Texts({ description: 'Processes (ISO 4063) or methods, letter for letter.', example: ['521'], max: 20, each: 40 })
  methods!: string[];

  @Whole({ description: 'Its level, a higher one doing for a lower; absent where the kind has none.', example: null, min: 1, max: 5, unit: '', optional: true })
  level?: number | null;

  @Parts({
    description: 'What it is limited to.', of: () => ScopePart, max: 30,
    example: [{ name: 'thickness', min: '3', max: '12', unit: 'mm' }, { name: 'product', values: ['strip', 'tube'] }],
  })
  scope!: ScopePart[];

  @Day({ description: 'Its first day: of operators and setters that on which the test piece was welded.', example: '2025-06-02' })
  startsOn!: string;

  @Day({ description: 'Its last day, valid to its end; absent when none is printed.', example: '2028-06-01', optional: true })
  expiresOn?: string | null;

  @Whole({ description: 'Months within which work in its scope has to be confirmed again and again; absent when it has not.', example: 6, min: 1, max: 120, unit: 'months', optional: true })
  confirmEveryMonths?: number | null;

  @Choice({ description: 'What a confirmation that comes late does: it revives the qualification from its own day on, or the qualification has ended. revives when absent.', example: 'revives', of: LATE_CONFIRMATIONS, optional: true })
  lateConfirmation?: (typeof LATE_CONFIRMATIONS)[number] | null;

  @Whole({ description: 'Months that a vision test holds; absent when none is asked for.', example: null, min: 1, max: 120, unit: 'months', optional: true })
  visionEveryMonths?: number | null;

  @YesNo({ description: "The employer's authorisation is needed beside it.", example: false })
  authorisationNeeded!: boolean;

  @Text({ description: 'Who examined.', example: 'Examining body of the trade chamber', max: 120 })
  examiner!: string;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The qualification's own fields of an answer. */
export class QualificationContent extends OmitType(QualificationInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class QualificationAnswer extends IntersectionType(RecordAnswer, QualificationContent) {}
