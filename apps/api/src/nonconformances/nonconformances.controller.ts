import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { NonconformanceAnswer, NonconformanceInput } from './nonconformance.dto.js';
import { NonconformancesService } from './nonconformances.service.js';

const Routes = recordController({
  path: 'nonconformances',
  write: 'nonconformance:write',
  input: NonconformanceInput,
  answer: NonconformanceAnswer,
  filters: ['stringId'],
});

@Controller('api/nonconformances')
export class NonconformancesController extends Routes {
  constructor(nonconformances: NonconformancesService) {
    super(nonconformances);
  }
}
