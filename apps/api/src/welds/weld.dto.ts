import { IntersectionType, OmitType } from '@nestjs/swagger';
import { UNIT_NAMES, type UnitName } from '#libs/units';
import { WELD_CHOICES, WELD_VARIABLES, type WeldChoice } from '#libs/welding';
import { Choice, Id, Parts, Text } from '../http/fields.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';

const VARIABLES = WELD_VARIABLES.map(({ code }) => code);

/** A value of the weld as it was read. */
export class WeldReadingPart {
  @Choice({ description: 'The variable.', example: 'current', of: VARIABLES })
  variable!: string;

  @Text({ description: 'The digits as shown.', example: '205', max: 30 })
  printed!: string;

  @Choice({ description: 'The unit.', example: 'A', of: UNIT_NAMES })
  unit!: UnitName;

  @Id({ description: 'The instrument it was read from, when it is on record.', example: null, optional: true })
  instrumentId?: string | null;
}

/** What was chosen for the weld. */
export class WeldChosenPart {
  @Choice({ description: 'What is chosen.', example: 'material', of: WELD_CHOICES })
  choice!: WeldChoice;

  @Text({ description: 'What it was.', example: 'S420MC', max: 80 })
  value!: string;
}

/** `doneBy` is the welder or operator; `observedAt` is when the weld was made. It is of a splice or of a re-join. */
export class WeldInput extends StringRecordInput {
  @Id({ description: 'The splice it made.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b0c', optional: true })
  spliceId?: string | null;

  @Id({ description: 'The re-join it made.', example: null, optional: true })
  rejoinId?: string | null;

  @Id({ description: 'The revision of the procedure it was made by.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b44' })
  weldProcedureId!: string;

  @Parts({
    description: 'What was set and measured.', of: () => WeldReadingPart, max: 100,
    example: [
      { variable: 'current', printed: '205', unit: 'A' }, { variable: 'voltage', printed: '24.1', unit: 'V' }, { variable: 'travel-speed', printed: '300', unit: 'mm/min' },
    ],
  })
  readings!: WeldReadingPart[];

  @Parts({ description: 'What was chosen.', of: () => WeldChosenPart, max: 30, example: [{ choice: 'process', value: '135' }, { choice: 'material', value: 'S420MC' }] })
  chosen!: WeldChosenPart[];

  @Text({ description: 'Batch of the filler.', example: 'FB-4471', max: 60, optional: true })
  fillerBatch?: string | null;

  @Text({ description: 'Batch of the gas.', example: null, max: 60, optional: true })
  gasBatch?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The weld's own fields of an answer. */
export class WeldContent extends OmitType(WeldInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class WeldAnswer extends IntersectionType(RecordAnswer, WeldContent) {}
