import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { SamplingPlanAssignmentAnswer, SamplingPlanAssignmentInput } from './sampling-plan-assignment.dto.js';
import { SamplingPlanAssignmentsService } from './sampling-plan-assignments.service.js';

const Routes = recordController({
  path: 'sampling-plan-assignments', write: 'sampling-plan-assignment:write', input: SamplingPlanAssignmentInput, answer: SamplingPlanAssignmentAnswer,
  filters: ['stringId', 'samplingPlanId'],
});

@Controller('api/sampling-plan-assignments')
export class SamplingPlanAssignmentsController extends Routes {
  constructor(assignments: SamplingPlanAssignmentsService) {
    super(assignments);
  }
}
