import { Module } from '@nestjs/common';
import { ChannelsModule } from '../channels/channels.module.js';
import { DetectionsModule } from '../detections/detections.module.js';
import { IndicationEvaluationsModule } from '../indication-evaluations/indication-evaluations.module.js';
import { IndicationRulesModule } from '../indication-rules/indication-rules.module.js';
import { IndicationsModule } from '../indications/indications.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { DetectionDifferencesController } from './detection-differences.controller.js';
import { DetectionDifferences } from './detection-differences.service.js';

/** What another rule, or other levels, make of samples. */
@Module({
  imports: [CasingStringsModule, ChannelsModule, DetectionsModule, IndicationEvaluationsModule, IndicationRulesModule, IndicationsModule],
  controllers: [DetectionDifferencesController],
  providers: [DetectionDifferences],
})
export class DetectionDifferencesModule {}
