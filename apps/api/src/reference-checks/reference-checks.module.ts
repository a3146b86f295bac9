import { Module } from '@nestjs/common';
import { InspectionRunsModule } from '../inspection-runs/inspection-runs.module.js';
import { InstrumentsModule } from '../instruments/instruments.module.js';
import { LineModule } from '../line/line.module.js';
import { ReferenceChecksController } from './reference-checks.controller.js';
import { ReferenceChecksService } from './reference-checks.service.js';

@Module({
  imports: [InspectionRunsModule, InstrumentsModule, LineModule],
  controllers: [ReferenceChecksController],
  providers: [ReferenceChecksService],
  exports: [ReferenceChecksService],
})
export class ReferenceChecksModule {}
