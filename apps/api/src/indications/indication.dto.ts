import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Id, Ids, Measured, Text, YesNo } from '../http/fields.js';
import { SURFACES } from '../inspections/inspection.dto.js';
import { PlacedContent, PlacedInput } from '../line/placed.dto.js';
import { RecordAnswer } from '../records/record.dto.js';
import { EXAMINATION_METHODS } from '../splice-steps/splice-step.dto.js';

export const ORIGINS = ['detected', 'manual'] as const;
/** As formed on the line; what lies between them is at neither. */
export const INDICATED_SURFACES = [...SURFACES, 'mid-wall'] as const;

const EXAMPLE_CHANNEL = '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b60';

/**
 * An indication that a person saw. Those that a detection opens keep place, channels, method and peak; the rest of them is for
 * people to add.
 */
export class IndicationInput extends PlacedInput {
  @Ids({ description: 'The channels that show it; empty for what was only seen.', example: [EXAMPLE_CHANNEL], max: 50 })
  channelIds!: string[];

  @Choice({ description: 'The method it was seen by, as ISO 9712 abbreviates it; a detected one has that of its channels.', example: 'UT', of: EXAMINATION_METHODS, optional: true })
  method?: (typeof EXAMINATION_METHODS)[number] | null;

  @Measured({ description: 'Its greatest value beyond the threshold, digits as read.', example: '78.4', min: -1e9, max: 1e9, unit: 'in its unit', optional: true })
  peak?: string | null;

  @Text({ description: 'The unit of the peak.', example: '%', max: 20, optional: true })
  peakUnit?: string | null;

  @YesNo({ description: 'The peak is a bound, as the channel was saturated: the true one is at least as bad. Beside every peak.', example: false, optional: true })
  peakIsBound?: boolean | null;

  @Measured({ description: 'Clock position in degrees; the viewing direction is that of the line set-up.', example: '90', min: 0, max: 360, unit: '°', optional: true })
  clockDeg?: string | null;

  @Choice({ description: 'The surface as formed on the line.', example: 'formed-inside', of: INDICATED_SURFACES, optional: true })
  surface?: (typeof INDICATED_SURFACES)[number] | null;

  @Text({ description: 'The imperfection it is taken for, in the terms of API 5T1.', example: 'penetrator', max: 80, optional: true })
  imperfection?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The indication's own fields of an answer. */
export class IndicationContent extends IntersectionType(
  PlacedContent,
  OmitType(IndicationInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm', 'stringId', 'from', 'to'] as const),
) {
  @Choice({ description: 'Found in samples, or seen by a person.', example: 'manual', of: ORIGINS })
  origin!: (typeof ORIGINS)[number];

  @Id({ description: 'The detection that opened it.', example: null, optional: true })
  detectionId!: string | null;
}

export class IndicationAnswer extends IntersectionType(RecordAnswer, IndicationContent) {}
