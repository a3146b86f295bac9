import { IntersectionType, OmitType } from '@nestjs/swagger';
import { UNIT_NAMES, type UnitName } from '#libs/units';
import { WELD_CHOICES, WELD_VARIABLES, type WeldChoice } from '#libs/welding';
import { Choice, Day, Measured, Part, Parts, Text, Texts, Whole } from '../http/fields.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';

export const WELD_PURPOSES = ['splice', 're-join', 'seam', 'repair'] as const;
const VARIABLES = WELD_VARIABLES.map(({ code }) => code);

/** What the procedure allows of a variable, both ends included; without ends it is only asked to be reported. */
export class WeldRangePart {
  @Choice({ description: 'The variable.', example: 'current', of: VARIABLES })
  variable!: string;

  @Measured({ description: 'The least that is allowed.', example: '180', min: -1e6, max: 1e6, unit: 'in its unit', optional: true })
  min?: string | null;

  @Measured({ description: 'The most that is allowed.', example: '220', min: -1e6, max: 1e6, unit: 'in its unit', optional: true })
  max?: string | null;

  @Choice({ description: 'The unit of both.', example: 'A', of: UNIT_NAMES })
  unit!: UnitName;
}

/** What the procedure lists of something that is chosen: any of these, letter for letter. */
export class WeldListPart {
  @Choice({ description: 'What is chosen.', example: 'material', of: WELD_CHOICES })
  choice!: WeldChoice;

  @Texts({ description: 'What it may be.', example: ['S420MC', 'S460MC'], max: 50, each: 80 })
  allowed!: string[];
}

/** The record of the tests that qualified the procedure. */
export class ProcedureTestPart {
  @Text({ description: 'Its number.', example: 'PQR-18', max: 60 })
  number!: string;

  @Text({ description: 'The standard it was tested by.', example: 'ISO 15614-1', max: 80 })
  standard!: string;

  @Day({ description: 'The day of the test weld.', example: '2025-05-12' })
  testedOn!: string;

  @Text({ description: 'Who examined.', example: 'Examining body of the trade chamber', max: 120 })
  examiner!: string;
}

export class WeldProcedureInput extends RecordInput {
  @Text({ description: 'Its number.', example: 'WP-7', max: 60 })
  number!: string;

  @Whole({ description: 'The revision; each of a number once.', example: 1, min: 1, max: 999, unit: '' })
  revision!: number;

  @Text({ description: 'What it is for.', example: 'Bias splice of 5 mm strip', max: 200 })
  title!: string;

  @Choice({ description: 'The kind of weld.', example: 'splice', of: WELD_PURPOSES })
  purpose!: (typeof WELD_PURPOSES)[number];

  @Text({ description: 'The process, by its number in ISO 4063.', example: '135', max: 20 })
  process!: string;

  @Day({ description: 'Welds from this day on may be made by it.', example: '2025-06-01' })
  effectiveFrom!: string;

  @Parts({
    description: 'Ranges of variables.', of: () => WeldRangePart, max: 100,
    example: [
      { variable: 'current', min: '180', max: '220', unit: 'A' }, { variable: 'voltage', min: '22', max: '26', unit: 'V' },
      { variable: 'strip-thickness', min: '3', max: '12', unit: 'mm' }, { variable: 'splice-angle', min: '40', max: '50', unit: 'deg' },
    ],
  })
  ranges!: WeldRangePart[];

  @Parts({ description: 'What is listed.', of: () => WeldListPart, max: 20, example: [{ choice: 'material', allowed: ['S420MC', 'S460MC'] }, { choice: 'heat-treatment', allowed: ['no'] }] })
  lists!: WeldListPart[];

  @Part({ description: 'The record of its tests; absent while it is not qualified.', of: () => ProcedureTestPart, optional: true })
  test?: ProcedureTestPart | null;

  @Text({ description: 'Heat treatment, in words.', example: 'None', max: 500, optional: true })
  heatTreatment?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The procedure's own fields of an answer. */
export class WeldProcedureContent extends OmitType(WeldProcedureInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class WeldProcedureAnswer extends IntersectionType(RecordAnswer, WeldProcedureContent) {}
