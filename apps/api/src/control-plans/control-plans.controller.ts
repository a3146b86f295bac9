import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { ControlPlanAnswer, ControlPlanInput } from './control-plan.dto.js';
import { ControlPlansService } from './control-plans.service.js';

const Routes = recordController({
  path: 'control-plans', write: 'control-plan:write', input: ControlPlanInput, answer: ControlPlanAnswer, filters: ['stringId'],
});

@Controller('api/control-plans')
export class ControlPlansController extends Routes {
  constructor(plans: ControlPlansService) {
    super(plans);
  }
}
