import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { CounterPeriodAnswer, CounterPeriodInput } from './counter-period.dto.js';
import { CounterPeriodsService } from './counter-periods.service.js';

const Routes = recordController({
  path: 'counter-periods',
  write: 'counter-period:write',
  input: CounterPeriodInput,
  answer: CounterPeriodAnswer,
  filters: ['stringId'],
});

@Controller('api/counter-periods')
export class CounterPeriodsController extends Routes {
  constructor(records: CounterPeriodsService) {
    super(records);
  }
}
