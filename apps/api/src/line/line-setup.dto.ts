import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Measured, Parts, Text, Whole } from '../http/fields.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';

/** A kilometre either way: beyond any line. */
export const PATH_LIMIT_MM = 1_000_000;
export const LINE_VIEWINGS = ['down-the-hole', 'up-the-hole'] as const;

/** A place on the line. */
export class StationInput {
  @Text({ description: 'Its name, unique in the set-up.', example: 'wall gauge', max: 60 })
  name!: string;

  @Choice({
    description: 'hang-off for the station where the pipe hangs in the well; absent for the others.',
    example: null, of: ['hang-off'], optional: true,
  })
  role?: 'hang-off' | null;

  @Whole({
    description: 'Least path distance downstream of the weld point; negative upstream.',
    example: 6_200, min: -PATH_LIMIT_MM, max: PATH_LIMIT_MM, unit: 'mm',
  })
  pathMinMm!: number;

  @Whole({
    description: 'Greatest path distance: the same as the least, but for a station behind a strip accumulator.',
    example: 6_200, min: -PATH_LIMIT_MM, max: PATH_LIMIT_MM, unit: 'mm',
  })
  pathMaxMm!: number;

  @Measured({ description: 'Standard uncertainty of the distance.', example: '3', min: 0, max: 1e5, unit: 'mm' })
  uMm!: string;
}

export class LineSetupInput extends StringRecordInput {
  @Parts({
    description: 'The stations. The weld point is distance 0 and need not be listed.',
    of: () => StationInput, min: 1, max: 100,
  })
  stations!: StationInput[];

  @Choice({ description: 'The way a viewer of clock positions looks.', example: 'down-the-hole', of: LINE_VIEWINGS })
  viewing!: (typeof LINE_VIEWINGS)[number];

  @Text({ description: 'Anything else worth knowing.', example: 'Distances taped along the pipe', max: 2000, optional: true })
  note?: string | null;
}

/** The set-up's own fields of an answer. */
export class LineSetupContent extends OmitType(
  LineSetupInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const,
) {}

export class LineSetupAnswer extends IntersectionType(RecordAnswer, LineSetupContent) {}
