import { OmitType } from '@nestjs/swagger';
import { Part, Parts } from '../http/fields.js';
import { SpliceStepAnswer, SpliceStepInput } from '../splice-steps/splice-step.dto.js';
import { SpliceAnswer, SpliceInput } from '../splices/splice.dto.js';
import { WeldAnswer, WeldInput } from '../welds/weld.dto.js';

const MOST_PARTS = 50;

/** A weld of the splice that it is sent with. */
export class WeldOfSplicePart extends OmitType(WeldInput, ['stringId', 'spliceId', 'rejoinId'] as const) {}

/** A step of the splice that it is sent with. */
export class StepOfSplicePart extends OmitType(SpliceStepInput, ['stringId', 'spliceId'] as const) {}

/** A splice with its welds and steps: all of it is entered, or nothing. Every part has an id of its own, made by the client. */
export class SpliceEntryInput {
  @Part({ description: 'The splice.', of: () => SpliceInput })
  splice!: SpliceInput;

  @Parts({ description: 'Its welds.', of: () => WeldOfSplicePart, max: MOST_PARTS })
  welds!: WeldOfSplicePart[];

  @Parts({ description: 'Its steps.', of: () => StepOfSplicePart, max: MOST_PARTS })
  steps!: StepOfSplicePart[];
}

/** The parts as they were taken. */
export class SpliceEntryAnswer {
  @Part({ description: 'The splice.', of: () => SpliceAnswer })
  splice!: SpliceAnswer;

  @Parts({ description: 'Its welds.', of: () => WeldAnswer, max: MOST_PARTS })
  welds!: WeldAnswer[];

  @Parts({ description: 'Its steps.', of: () => SpliceStepAnswer, max: MOST_PARTS })
  steps!: SpliceStepAnswer[];
}
