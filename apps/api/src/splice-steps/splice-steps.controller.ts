import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { SpliceStepAnswer, SpliceStepInput } from './splice-step.dto.js';
import { SpliceStepsService } from './splice-steps.service.js';

const Routes = recordController({
  path: 'splice-steps', write: 'splice-step:write', input: SpliceStepInput, answer: SpliceStepAnswer, filters: ['stringId', 'spliceId'],
});

@Controller('api/splice-steps')
export class SpliceStepsController extends Routes {
  constructor(steps: SpliceStepsService) {
    super(steps);
  }
}
