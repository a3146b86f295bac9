import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { SamplingPlanAnswer, SamplingPlanInput } from './sampling-plan.dto.js';
import { SamplingPlansService } from './sampling-plans.service.js';

const Routes = recordController({
  path: 'sampling-plans', write: 'sampling-plan:write', input: SamplingPlanInput, answer: SamplingPlanAnswer, filters: [],
});

@Controller('api/sampling-plans')
export class SamplingPlansController extends Routes {
  constructor(plans: SamplingPlansService) {
    super(plans);
  }
}
