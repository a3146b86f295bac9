import { Module } from '@nestjs/common';
import { InspectionRunsModule } from '../inspection-runs/inspection-runs.module.js';
import { LineModule } from '../line/line.module.js';
import { SignalMarksController } from './signal-marks.controller.js';
import { SignalMarksService } from './signal-marks.service.js';

@Module({
  imports: [InspectionRunsModule, LineModule],
  controllers: [SignalMarksController],
  providers: [SignalMarksService],
  exports: [SignalMarksService],
})
export class SignalMarksModule {}
