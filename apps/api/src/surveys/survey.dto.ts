import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Id, Measured, Part, Parts, Text } from '../http/fields.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';

/** Farther than any hole goes; lengths in m. */
const DEEPEST_M = 15_000;

/** Grid coordinates stay below it; m. */
const FARTHEST_M = 10_000_000;

const MOST_STATIONS = 5000;

export class SurveyStationInput {
  @Measured({ description: 'Measured depth from the well datum.', example: '120.50', min: 0, max: DEEPEST_M, unit: 'm' })
  mdM!: string;

  @Measured({ description: 'Inclination from the vertical; above 90 the hole rises.', example: '78.25', min: 0, max: 180, unit: '°' })
  inclinationDeg!: string;

  @Measured({ description: 'Azimuth from north; 360 is 0.', example: '41.30', min: 0, max: 360, unit: '°' })
  azimuthDeg!: string;
}

export class SurveyTieInInput {
  @Measured({ description: 'North of the first station; 0 when absent.', example: '0', min: -FARTHEST_M, max: FARTHEST_M, unit: 'm', optional: true })
  northM?: string | null;

  @Measured({ description: 'East of the first station; 0 when absent.', example: '0', min: -FARTHEST_M, max: FARTHEST_M, unit: 'm', optional: true })
  eastM?: string | null;

  @Measured({ description: 'True vertical depth of the first station; 0 when absent.', example: '0', min: -DEEPEST_M, max: DEEPEST_M, unit: 'm', optional: true })
  tvdM?: string | null;
}

export class SurveyInput extends RecordInput {
  @Id({ description: 'The well.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b04' })
  wellId!: string;

  @Parts({
    description: 'The stations, measured depth strictly rising.', of: () => SurveyStationInput, min: 2, max: MOST_STATIONS,
    example: [
      { mdM: '0', inclinationDeg: '80.00', azimuthDeg: '41.00' },
      { mdM: '120.50', inclinationDeg: '78.25', azimuthDeg: '41.30' },
    ],
  })
  stations!: SurveyStationInput[];

  @Part({ description: 'The position of the first station; the origin when absent.', of: () => SurveyTieInInput, optional: true })
  tieIn?: SurveyTieInInput | null;

  @Text({ description: 'What it was surveyed with.', example: 'Gyro, multishot', max: 200 })
  tool!: string;

  @Text({ description: 'Anything else worth knowing.', example: 'Grid north, declination applied', max: 2000, optional: true })
  note?: string | null;
}

/** The survey's own fields of an answer. */
export class SurveyContent extends OmitType(SurveyInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class SurveyAnswer extends IntersectionType(RecordAnswer, SurveyContent) {}
