import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Computed, Id, Measured, Text, YesNo } from '../http/fields.js';
import { PlacedContent, PlacedInput } from '../line/placed.dto.js';
import { RecordAnswer } from '../records/record.dto.js';

export const SPLICE_HANDS = ['square', 'left', 'right'] as const;
export const SPLICE_VERDICTS = ['open', 'accepted', 'in-doubt', 'rejected'] as const;

/** Where `to` is absent the splice ends where its angle and the width of the entering strip say. */
export class SpliceInput extends PlacedInput {
  @Text({ description: 'Its number, unique on its string.', example: 'S-3', max: 60 })
  number!: string;

  @Id({ description: 'The coil that ends here.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b07' })
  leavingCoilId!: string;

  @Id({ description: 'The coil that begins here.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b08' })
  enteringCoilId!: string;

  @Measured({ description: 'Angle of the weld to the strip edge; 90 is a square butt.', example: '45', min: 10, max: 90, unit: '°' })
  angleDeg!: string;

  @Choice({ description: 'Its hand seen on the formed outside; square exactly at 90°.', example: 'left', of: SPLICE_HANDS })
  hand!: (typeof SPLICE_HANDS)[number];

  @YesNo({ description: 'Its place was seen on the pipe, not only predicted.', example: true })
  confirmed!: boolean;

  @Choice({ description: 'The verdict on the weld.', example: 'accepted', of: SPLICE_VERDICTS })
  verdict!: (typeof SPLICE_VERDICTS)[number];

  @Text({ description: 'What is in doubt; only and always for the verdict in-doubt.', example: null, max: 2000, optional: true })
  doubt?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: 'Planished on both sides', max: 2000, optional: true })
  note?: string | null;
}

/** The splice's own fields of an answer. */
export class SpliceContent extends IntersectionType(
  PlacedContent,
  OmitType(SpliceInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm', 'stringId', 'from', 'to'] as const),
) {
  @Computed({ description: 'Pipe that the weld takes: width of the entering strip / tan of the angle, mm.', example: 383 })
  pipeLengthMm!: number;
}

export class SpliceAnswer extends IntersectionType(RecordAnswer, SpliceContent) {}
