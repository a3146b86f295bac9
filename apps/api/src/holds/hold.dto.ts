import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Ids, Parts, Text } from '../http/fields.js';
import { ExtentInput, FootageExtent } from '../line/extent.dto.js';
import { RestsOnAnswer } from '../line/placed.dto.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';

const MOST = 100;

/**
 * Pipe, coils or splices that are not to be released until the hold is lifted; at least one of the three. `doneBy` set it. It is
 * a record and no interlock.
 */
export class HoldInput extends StringRecordInput {
  @Text({ description: 'Why.', example: 'Wall below minimum after splice S-3; extent not known yet', max: 2000 })
  cause!: string;

  @Parts({ description: 'The pipe, on the string.', of: () => ExtentInput, max: MOST })
  intervals!: ExtentInput[];

  @Ids({ description: 'Coils, each once: all pipe that was made of them, and their strip.', example: [], max: MOST })
  coilIds!: string[];

  @Ids({ description: 'Splices of the string, each once.', example: [], max: MOST })
  spliceIds!: string[];
}

/** The hold's own fields of an answer. */
export class HoldContent extends OmitType(HoldInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {
  @Parts({ description: 'The intervals as footage, derived; sorted, no two touching. Pipe of coils and splices is not in it.', of: () => FootageExtent, max: MOST })
  footage!: FootageExtent[];

  @Parts({ description: 'The records the footage was derived from.', of: () => RestsOnAnswer, max: 1000 })
  restsOn!: readonly RestsOnAnswer[];
}

export class HoldAnswer extends IntersectionType(RecordAnswer, HoldContent) {}
