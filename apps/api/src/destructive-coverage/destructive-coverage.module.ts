import { Module } from '@nestjs/common';
import { CoilsModule } from '../coils/coils.module.js';
import { DestructiveTestsModule } from '../destructive-tests/destructive-tests.module.js';
import { LineModule } from '../line/line.module.js';
import { SamplingPlanAssignmentsModule } from '../sampling-plan-assignments/sampling-plan-assignments.module.js';
import { SeamEventsModule } from '../seam-events/seam-events.module.js';
import { CoilSegmentsModule } from '../segments/coil-segments.module.js';
import { SplicesModule } from '../splices/splices.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { TestSamplesModule } from '../test-samples/test-samples.module.js';
import { WellsModule } from '../wells/wells.module.js';
import { DestructiveCoverageController } from './destructive-coverage.controller.js';
import { DestructiveCoverages } from './destructive-coverage.service.js';

@Module({
  imports: [
    CasingStringsModule, CoilsModule, CoilSegmentsModule, DestructiveTestsModule, LineModule, SamplingPlanAssignmentsModule, SeamEventsModule, SplicesModule,
    TestSamplesModule, WellsModule,
  ],
  controllers: [DestructiveCoverageController],
  providers: [DestructiveCoverages],
  exports: [DestructiveCoverages],
})
export class DestructiveCoverageModule {}
