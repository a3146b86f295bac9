import { Choice, Id, Measured, Text, When, Whole } from '../http/fields.js';
import { FOOTAGE_LIMIT_MM } from '../line/placed.dto.js';
import { DISPOSITION_KINDS, type CoilExtent, type Containment, type Disposition, type Found, type Requirement } from './nonconformance.entity.js';

export { DISPOSITION_KINDS };

/** Common practice, no published source: no coil of strip comes near 100 km. */
const LONGEST_STRIP_MM = 100_000_000;

/** Strip that a nonconformance concerns. */
export class CoilExtentInput {
  @Id({ description: 'The coil.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b07' })
  coilId!: string;

  @Whole({ description: 'Where it begins, from the head of the coil; the head when absent.', example: 212_000, min: 0, max: LONGEST_STRIP_MM, unit: 'mm', optional: true })
  stripFromMm?: number | null;

  @Whole({ description: 'Where it ends, from the head of the coil; the tail when absent.', example: 236_500, min: 1, max: LONGEST_STRIP_MM, unit: 'mm', optional: true })
  stripToMm?: number | null;
}

export class CoilExtentAnswer extends CoilExtentInput implements CoilExtent {
  declare stripFromMm: number | null;
  declare stripToMm: number | null;
}

export class RequirementInput implements Requirement {
  @Text({ description: 'The document that asks for it.', example: 'Pipe inspection plan', max: 200 })
  document!: string;

  @Text({ description: 'Its revision.', example: '2', max: 40 })
  revision!: string;

  @Text({ description: 'The clause.', example: '4.3', max: 80 })
  clause!: string;

  @Text({ description: 'The limit, in its words.', example: 'wall thickness at least 4.75 mm', max: 300 })
  limit!: string;
}

export class FoundInput {
  @Measured({ description: 'The value, digits as read.', example: '4.61', min: -1e9, max: 1e9, unit: 'in its unit', optional: true })
  value?: string | null;

  @Text({ description: 'What was found, in words.', example: 'Thin band along the seam', max: 2000, optional: true })
  text?: string | null;

  @Text({ description: 'The unit of the value; beside every value.', example: 'mm', max: 20, optional: true })
  unit?: string | null;

  @Measured({ description: 'Standard uncertainty of the value.', example: '0.02', min: 0, max: 1e9, unit: 'in its unit', optional: true })
  uncertainty?: string | null;

  @Text({ description: 'How it was found.', example: 'ultrasonic thickness gauge', max: 200 })
  method!: string;

  @Text({ description: 'With which instrument; the eye counts as one.', example: 'UT-04', max: 120 })
  instrument!: string;

  @When({ description: 'When it was found.', example: '2026-03-02T08:15:00Z' })
  at!: string;

  @Id({ description: 'Who found it.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b02' })
  by!: string;
}

export class FoundAnswer extends FoundInput implements Found {
  declare value: string | null;
  declare text: string | null;
  declare unit: string | null;
  declare uncertainty: string | null;
}

export class ContainmentInput {
  @Text({ description: 'What was done at once.', example: 'Line stopped; pipe back to splice S-3 gauged', max: 2000 })
  action!: string;

  @Whole({ description: 'Footage at the weld point then.', example: 241_300, min: 0, max: FOOTAGE_LIMIT_MM, unit: 'mm', optional: true })
  footageMm?: number | null;

  @When({ description: 'When.', example: '2026-03-02T08:19:00Z' })
  at!: string;

  @Id({ description: 'By whom.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b02' })
  by!: string;
}

export class ContainmentAnswer extends ContainmentInput implements Containment {
  declare footageMm: number | null;
}

export class DispositionInput implements Disposition {
  @Choice({ description: 'What is done with it.', example: 'repair', of: DISPOSITION_KINDS })
  kind!: Disposition['kind'];

  @Text({ description: 'In words, with its limits.', example: 'Clamp sleeve over 212.000 to 212.600 m before the hang-off', max: 4000 })
  text!: string;

  @Id({ description: 'Who approved it; never the one who found it.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b0a' })
  approvedBy!: string;

  @When({ description: 'When it was approved.', example: '2026-03-02T11:30:00Z' })
  approvedAt!: string;
}
