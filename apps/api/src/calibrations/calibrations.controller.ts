import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { CalibrationAnswer, CalibrationInput } from './calibration.dto.js';
import { CalibrationsService } from './calibrations.service.js';

const Routes = recordController({
  path: 'calibrations', write: 'calibration:write', input: CalibrationInput, answer: CalibrationAnswer, filters: ['instrumentId', 'referenceInstrumentId'],
});

@Controller('api/calibrations')
export class CalibrationsController extends Routes {
  constructor(calibrations: CalibrationsService) {
    super(calibrations);
  }
}
