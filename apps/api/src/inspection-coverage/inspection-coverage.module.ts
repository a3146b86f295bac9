import { Module } from '@nestjs/common';
import { ChannelsModule } from '../channels/channels.module.js';
import { ExaminationsModule } from '../examinations/examinations.module.js';
import { LineModule } from '../line/line.module.js';
import { RejoinsModule } from '../rejoins/rejoins.module.js';
import { SignalMarksModule } from '../signal-marks/signal-marks.module.js';
import { SignalsModule } from '../signals/signals.module.js';
import { SplicesModule } from '../splices/splices.module.js';
import { ChannelCoverages } from './channel-coverages.service.js';
import { InspectionCoverageController } from './inspection-coverage.controller.js';
import { InspectionCoverages } from './inspection-coverage.service.js';

/** What of the pipe the channels of the line inspected. */
@Module({
  imports: [ChannelsModule, ExaminationsModule, LineModule, RejoinsModule, SignalMarksModule, SignalsModule, SplicesModule],
  controllers: [InspectionCoverageController],
  providers: [ChannelCoverages, InspectionCoverages],
})
export class InspectionCoverageModule {}
