import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { ExaminationAnswer, ExaminationInput } from './examination.dto.js';
import { ExaminationsService } from './examinations.service.js';

const Routes = recordController({
  path: 'examinations', write: 'examination:write', input: ExaminationInput, answer: ExaminationAnswer,
  filters: ['stringId', 'spliceId', 'rejoinId', 'repairId', 'instrumentId'],
});

@Controller('api/examinations')
export class ExaminationsController extends Routes {
  constructor(examinations: ExaminationsService) {
    super(examinations);
  }
}
