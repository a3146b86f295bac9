import { Module } from '@nestjs/common';
import { ChannelsModule } from '../channels/channels.module.js';
import { IndicationEvaluationsModule } from '../indication-evaluations/indication-evaluations.module.js';
import { IndicationRulesModule } from '../indication-rules/indication-rules.module.js';
import { IndicationsModule } from '../indications/indications.module.js';
import { SignalMarksModule } from '../signal-marks/signal-marks.module.js';
import { SignalsModule } from '../signals/signals.module.js';
import { SplicesModule } from '../splices/splices.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { DetectionsController } from './detections.controller.js';
import { DetectionsService } from './detections.service.js';
import { LookedChannels } from './looked-channels.service.js';
import { LookedPipe } from './looked-pipe.service.js';

@Module({
  imports: [CasingStringsModule, ChannelsModule, IndicationEvaluationsModule, IndicationRulesModule, IndicationsModule, SignalMarksModule, SignalsModule, SplicesModule],
  controllers: [DetectionsController],
  providers: [DetectionsService, LookedChannels, LookedPipe],
  exports: [DetectionsService, LookedChannels, LookedPipe],
})
export class DetectionsModule {}
