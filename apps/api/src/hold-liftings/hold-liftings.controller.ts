import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { HoldLiftingAnswer, HoldLiftingInput } from './hold-lifting.dto.js';
import { HoldLiftingsService } from './hold-liftings.service.js';

const Routes = recordController({
  path: 'hold-liftings', write: 'hold-lifting:write', input: HoldLiftingInput, answer: HoldLiftingAnswer, filters: ['stringId', 'holdId'],
});

@Controller('api/hold-liftings')
export class HoldLiftingsController extends Routes {
  constructor(liftings: HoldLiftingsService) {
    super(liftings);
  }
}
