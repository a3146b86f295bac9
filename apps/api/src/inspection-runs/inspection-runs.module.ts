import { Module } from '@nestjs/common';
import { ChannelsModule } from '../channels/channels.module.js';
import { InstrumentsModule } from '../instruments/instruments.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { InspectionRunsController } from './inspection-runs.controller.js';
import { InspectionRunsService } from './inspection-runs.service.js';

@Module({
  imports: [CasingStringsModule, ChannelsModule, InstrumentsModule],
  controllers: [InspectionRunsController],
  providers: [InspectionRunsService],
  exports: [InspectionRunsService],
})
export class InspectionRunsModule {}
