import { CHARACTERISTICS, STRIP_UNITS, type StripUnit } from '#libs/strip';
import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Id, Measured, Parts, Text } from '../http/fields.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';

/** Chemistry is analysed elsewhere and comes as a paper. */
export const CHECKED = CHARACTERISTICS.filter(({ kind }) => kind === 'dimension' || kind === 'hardness').map(({ code }) => code);

export const ALONG = ['head', 'body', 'tail'] as const;
export const ACROSS = ['edge', 'centre', 'far-edge'] as const;

/** One reading with its place on the strip. */
export class ReadingPart {
  @Text({ description: 'The digits as shown by the instrument.', example: '5.03', max: 30 })
  printed!: string;

  @Choice({ description: 'Where along the coil.', example: 'head', of: ALONG })
  along!: (typeof ALONG)[number];

  @Choice({ description: 'Where across the strip; absent for what has no such place, such as width.', example: 'centre', of: ACROSS, optional: true })
  across?: (typeof ACROSS)[number] | null;

  @Measured({ description: 'Distance from the edge.', example: null, min: 0, max: 1250, unit: 'mm', optional: true })
  fromEdgeMm?: string | null;
}

export class IncomingCheckInput extends RecordInput {
  @Id({ description: 'The coil.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b07' })
  coilId!: string;

  @Choice({ description: 'What was measured.', example: 'thickness', of: CHECKED })
  characteristic!: string;

  @Choice({ description: 'The unit read.', example: 'mm', of: STRIP_UNITS })
  unit!: StripUnit;

  @Parts({
    description: 'The readings.', of: () => ReadingPart, min: 1, max: 200,
    example: [
      { printed: '5.03', along: 'head', across: 'centre' }, { printed: '4.99', along: 'head', across: 'edge', fromEdgeMm: '25' },
      { printed: '5.02', along: 'tail', across: 'centre' },
    ],
  })
  readings!: ReadingPart[];

  @Text({ description: 'The number on the instrument.', example: 'MI-07', max: 60 })
  instrument!: string;

  @Id({ description: 'The instrument, when it is on record.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b42', optional: true })
  instrumentId?: string | null;

  @Measured({ description: 'Expanded uncertainty (k = 2) of a reading, in the unit read.', example: '0.01', min: 0, max: 1000, unit: 'unit', optional: true })
  expandedU?: string | null;

  @Measured({ description: 'For camber: the base length.', example: null, min: 100, max: 20_000, unit: 'mm', optional: true })
  baseMm?: string | null;

  @Text({ description: 'How it was measured.', example: 'Micrometer, ball anvil', max: 120, optional: true })
  method?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The check's own fields of an answer. */
export class IncomingCheckContent extends OmitType(IncomingCheckInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class IncomingCheckAnswer extends IntersectionType(RecordAnswer, IncomingCheckContent) {}
