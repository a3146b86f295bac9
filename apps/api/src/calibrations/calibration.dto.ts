import { IntersectionType, OmitType } from '@nestjs/swagger';
import { Choice, Day, Id, Measured, Parts, Text } from '../http/fields.js';
import { RecordAnswer, RecordInput } from '../records/record.dto.js';

export const CALIBRATION_RULES = ['simple-acceptance', 'guarded-acceptance', 'proof-of-conformity'] as const;

/** What was found at one point of the range: indicated less reference, and the tolerance on it. */
export class CalibrationPointPart {
  @Text({ description: 'The point.', example: '5.00 mm', max: 60 })
  point!: string;

  @Text({ description: 'The deviation: indicated less reference, digits as printed.', example: '0.003', max: 30 })
  deviation!: string;

  @Measured({ description: 'Least deviation within tolerance.', example: '-0.005', min: -1e6, max: 1e6, unit: 'in its unit' })
  min!: string;

  @Measured({ description: 'Greatest deviation within tolerance.', example: '0.005', min: -1e6, max: 1e6, unit: 'in its unit' })
  max!: string;

  @Text({ description: 'The unit.', example: 'mm', max: 20 })
  unit!: string;

  @Measured({ description: 'Expanded uncertainty (k = 2) of the deviation.', example: '0.001', min: 0, max: 1e6, unit: 'in its unit', optional: true })
  expandedU?: string | null;
}

const AS_FOUND = [{ point: '5.00 mm', deviation: '0.003', min: '-0.005', max: '0.005', unit: 'mm', expandedU: '0.001' }];

/** `observedAt` is when the instrument was adjusted, or read where nothing was adjusted. */
export class CalibrationInput extends RecordInput {
  @Id({ description: 'The instrument.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b42' })
  instrumentId!: string;

  @Id({ description: 'The reference standard it was held against, when it is on record.', example: null, optional: true })
  referenceInstrumentId?: string | null;

  @Text({ description: 'Number of the calibration certificate.', example: 'CAL-2026-031', max: 60 })
  certificateNumber!: string;

  @Text({ description: 'Who calibrated.', example: 'Site measuring room', max: 120 })
  laboratory!: string;

  @Parts({ description: 'Before any adjustment; absent when it was not taken.', of: () => CalibrationPointPart, min: 1, max: 100, optional: true, example: AS_FOUND })
  asFound?: CalibrationPointPart[] | null;

  @Parts({ description: 'After adjustment; absent when nothing was adjusted.', of: () => CalibrationPointPart, min: 1, max: 100, optional: true, example: null })
  asLeft?: CalibrationPointPart[] | null;

  @Choice({ description: 'How the deviations are judged against their tolerance.', example: 'simple-acceptance', of: CALIBRATION_RULES })
  decisionRule!: (typeof CALIBRATION_RULES)[number];

  @Measured({ description: 'r in the guard band w = r·U; 1 when absent.', example: '1', min: 0, max: 5, unit: '', optional: true })
  guardFactor?: string | null;

  @Day({ description: 'Last day on which it may be used without a new calibration.', example: '2027-01-31', optional: true })
  dueOn?: string | null;

  @Text({ description: 'Anything else worth knowing.', example: null, max: 2000, optional: true })
  note?: string | null;
}

/** The calibration's own fields of an answer. */
export class CalibrationContent extends OmitType(CalibrationInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class CalibrationAnswer extends IntersectionType(RecordAnswer, CalibrationContent) {}
