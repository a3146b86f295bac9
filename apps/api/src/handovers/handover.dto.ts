import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Id, Part, Parts, Text, Whole } from '../http/fields.js';
import { FOOTAGE_LIMIT_MM } from '../line/placed.dto.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';
import { AboutRecordPart } from '../string-records/about-record.dto.js';

/** What the next shift has to know or do. */
export class HandoverItemPart {
  @Text({ description: 'In words.', example: 'Splice S-3: film unclear, to be taken again before it reaches the hang-off', max: 2000 })
  words!: string;

  @Part({ description: 'A record of the string that it is about.', of: () => AboutRecordPart, optional: true })
  about?: AboutRecordPart | null;

  @Whole({ description: 'Footage where it is, as given.', example: 212_000, min: 0, max: FOOTAGE_LIMIT_MM, unit: 'mm', optional: true })
  footageMm?: number | null;
}

/** `doneBy` gives it. */
export class HandoverInput extends StringRecordInput {
  @Id({ description: 'The shift that hands over.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b51' })
  shiftId!: string;

  @Id({ description: 'The shift that takes over; absent while that is not known.', example: null, optional: true })
  nextShiftId?: string | null;

  @Parts({
    description: 'What is handed over; an empty list says: nothing.', of: () => HandoverItemPart, max: 200,
    example: [{ words: 'Splice S-3: film unclear, to be taken again before it reaches the hang-off', footageMm: 212_000 }, { words: 'Gauge MI-07 is at calibration' }],
  })
  items!: HandoverItemPart[];

  @Text({ description: 'Anything else worth knowing.', example: 'Walked the line together', max: 4000, optional: true })
  note?: string | null;
}

/** An item as it is answered. */
export class HandoverItemAnswer extends OmitType(HandoverItemPart, ['about', 'footageMm'] as const) {
  @Part({ description: 'A record of the string that it is about.', of: () => AboutRecordPart, optional: true, example: null })
  about!: AboutRecordPart | null;

  @Whole({ description: 'Footage where it is, as given.', example: 212_000, min: 0, max: FOOTAGE_LIMIT_MM, unit: 'mm', optional: true })
  footageMm!: number | null;
}

/** The handover's own fields of an answer. */
export class HandoverContent extends OmitType(HandoverInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm', 'items'] as const) {
  @Parts({ description: 'What is handed over; an empty list says: nothing.', of: () => HandoverItemAnswer, max: 200 })
  items!: HandoverItemAnswer[];
}

export class HandoverAnswer extends IntersectionType(RecordAnswer, HandoverContent) {}
