import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Text, TimeZone } from '../http/fields.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';

export class WellInput extends RecordInput {
  @Text({ description: 'The name of the well, unique.', example: 'Lindmoor Geothermal 2', max: 80 })
  name!: string;

  @Text({ description: 'Where measured depth is zero.', example: 'Top of the guide frame, 1.20 m above ground', max: 200 })
  datum!: string;

  @TimeZone({ description: 'Its time zone, by the name of the time zone database: by its days qualifications and calibrations run out. UTC when absent.', example: 'UTC', optional: true })
  timeZone?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: 'Deviated heat well', max: 2000, optional: true })
  note?: string | null;
}

/** The well's own fields of an answer. */
export class WellContent extends OmitType(WellInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class WellAnswer extends IntersectionType(RecordAnswer, WellContent) {}
