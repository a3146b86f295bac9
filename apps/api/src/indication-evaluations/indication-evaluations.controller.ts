import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { IndicationEvaluationAnswer, IndicationEvaluationInput } from './indication-evaluation.dto.js';
import { IndicationEvaluationsService } from './indication-evaluations.service.js';

const Routes = recordController({
  path: 'indication-evaluations', write: 'indication-evaluation:write', input: IndicationEvaluationInput, answer: IndicationEvaluationAnswer,
  filters: ['stringId', 'indicationId', 'instrumentId', 'repairId', 'cutOutId', 'examinationId'],
});

@Controller('api/indication-evaluations')
export class IndicationEvaluationsController extends Routes {
  constructor(evaluations: IndicationEvaluationsService) {
    super(evaluations);
  }
}
