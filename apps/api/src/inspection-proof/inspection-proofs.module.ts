import { Module } from '@nestjs/common';
import { ChannelsModule } from '../channels/channels.module.js';
import { InspectionRunsModule } from '../inspection-runs/inspection-runs.module.js';
import { InstrumentsModule } from '../instruments/instruments.module.js';
import { LineModule } from '../line/line.module.js';
import { NonconformancesModule } from '../nonconformances/nonconformances.module.js';
import { ReferenceChecksModule } from '../reference-checks/reference-checks.module.js';
import { CoilSegmentsModule } from '../segments/coil-segments.module.js';
import { SignalMarksModule } from '../signal-marks/signal-marks.module.js';
import { SignalsModule } from '../signals/signals.module.js';
import { InspectionProofsController } from './inspection-proofs.controller.js';
import { InspectionProofs } from './inspection-proofs.service.js';

@Module({
  imports: [
    ChannelsModule, CoilSegmentsModule, InspectionRunsModule, InstrumentsModule, LineModule, NonconformancesModule, ReferenceChecksModule, SignalMarksModule, SignalsModule,
  ],
  controllers: [InspectionProofsController],
  providers: [InspectionProofs],
  exports: [InspectionProofs],
})
export class InspectionProofsModule {}
