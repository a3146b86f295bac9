import { Module } from '@nestjs/common';
import { SamplingPlansModule } from '../sampling-plans/sampling-plans.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { SamplingPlanAssignmentsController } from './sampling-plan-assignments.controller.js';
import { SamplingPlanAssignmentsService } from './sampling-plan-assignments.service.js';

@Module({
  imports: [CasingStringsModule, SamplingPlansModule],
  controllers: [SamplingPlanAssignmentsController],
  providers: [SamplingPlanAssignmentsService],
  exports: [SamplingPlanAssignmentsService],
})
export class SamplingPlanAssignmentsModule {}
