import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Day, Measured, Parts, Text, Whole } from '../http/fields.js';
import { DOCUMENT_TYPES, type DocumentType } from '../certificates/document-type.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';
import { RequirementPart, ToleranceTablePart } from './requirement.dto.js';

export const ROUNDINGS = ['absolute', 'rounding'] as const;
export const DECISION_RULES = ['simple-acceptance', 'guarded-acceptance', 'proof-of-conformity'] as const;

export class StripSpecificationInput extends RecordInput {
  @Text({ description: 'Its number.', example: 'STS-12', max: 60 })
  number!: string;

  @Whole({ description: 'The revision; each number once.', example: 1, min: 1, max: 999, unit: '' })
  revision!: number;

  @Text({ description: 'What it is for.', example: 'Slit hot-rolled strip for guide and main strings', max: 200 })
  title!: string;

  @Day({ description: 'Orders from this day on are judged by it.', example: '2025-11-01' })
  effectiveFrom!: string;

  @Text({ description: 'The grade.', example: 'S420MC', max: 60 })
  grade!: string;

  @Choice({ description: 'Least type of inspection document (EN 10204).', example: '3.1', of: DOCUMENT_TYPES })
  documentType!: DocumentType;

  @Parts({
    description: 'What is asked for, line by line.', of: () => RequirementPart, min: 1, max: 200,
    example: [
      { characteristic: 'thickness', min: '-0.15', max: '0.15', unit: 'mm', limitOf: 'deviation', clause: '3.2' },
      { characteristic: 'C', analysis: 'heat', max: '0.12', unit: '%', clause: '4.1' },
      { characteristic: 'ReH', min: '420', unit: 'MPa', clause: '5.1' },
    ],
  })
  requirements!: RequirementPart[];

  @Parts({ description: 'Tolerance tables of one\'s own.', of: () => ToleranceTablePart, max: 10, example: [], optional: true })
  ownTables?: ToleranceTablePart[] | null;

  @Choice({ description: 'absolute: values are compared as they are; rounding: first rounded to the place of the limit (ASTM E29).', example: 'rounding', of: ROUNDINGS })
  rounding!: (typeof ROUNDINGS)[number];

  @Choice({
    description:
      'simple-acceptance; guarded-acceptance: accepted only inside a guard band (JCGM 106); proof-of-conformity: neither '
      + 'proved within the uncertainty of a limit (ISO 14253-1).',
    example: 'simple-acceptance', of: DECISION_RULES,
  })
  decisionRule!: (typeof DECISION_RULES)[number];

  @Measured({ description: 'r in the guard band w = r·U; 1 when absent.', example: '1', min: 0, max: 5, unit: '', optional: true })
  guardFactor?: string | null;

  @Text({ description: 'Edges.', example: 'slit', max: 60, optional: true })
  edge?: string | null;

  @Text({ description: 'Surface.', example: 'pickled and oiled', max: 120, optional: true })
  surface?: string | null;

  @Text({ description: 'How often what is tested.', example: 'One tensile test a heat and 40 t; product analysis a heat', max: 1000, optional: true })
  testFrequency?: string | null;

  @Text({ description: 'What follows a failed test.', example: 'Two more from the same coil; both shall conform. The failed one stays on record.', max: 1000, optional: true })
  retestRule?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The revision's own fields of an answer. */
export class StripSpecificationContent extends OmitType(
  StripSpecificationInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const,
) {}

export class StripSpecificationAnswer extends IntersectionType(RecordAnswer, StripSpecificationContent) {}

/** One thing in which two revisions differ. */
export class SpecificationDifference {
  @Text({ description: 'The field, or the requirement.', example: 'C, heat analysis', max: 200 })
  what!: string;

  @Text({ description: 'What the earlier revision says; null for nothing.', example: 'at most 0.14 %', max: 500, optional: true })
  before!: string | null;

  @Text({ description: 'What the later one says; null for nothing.', example: 'at most 0.12 %', max: 500, optional: true })
  after!: string | null;

  @Choice({ description: 'What it means for a value.', example: 'tighter', of: ['tighter', 'looser', 'other'] })
  effect!: 'tighter' | 'looser' | 'other';
}

export class SpecificationDifferenceAnswer {
  @Whole({ description: 'The earlier revision; null when there is none.', example: 1, min: 1, max: 999, unit: '', optional: true })
  from!: number | null;

  @Whole({ description: 'The later revision.', example: 2, min: 1, max: 999, unit: '' })
  to!: number;

  @Parts({ description: 'What differs.', of: () => SpecificationDifference, max: 500 })
  differences!: SpecificationDifference[];
}
