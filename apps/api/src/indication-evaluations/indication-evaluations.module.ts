import { Module } from '@nestjs/common';
import { ExaminationsModule } from '../examinations/examinations.module.js';
import { IndicationsModule } from '../indications/indications.module.js';
import { InstrumentsModule } from '../instruments/instruments.module.js';
import { LineModule } from '../line/line.module.js';
import { RepairsModule } from '../repairs/repairs.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { TimesLeftModule } from '../time-left/times-left.module.js';
import { IndicationEvaluationsController } from './indication-evaluations.controller.js';
import { IndicationEvaluationsService } from './indication-evaluations.service.js';

@Module({
  imports: [CasingStringsModule, ExaminationsModule, IndicationsModule, InstrumentsModule, LineModule, RepairsModule, TimesLeftModule],
  controllers: [IndicationEvaluationsController],
  providers: [IndicationEvaluationsService],
  exports: [IndicationEvaluationsService],
})
export class IndicationEvaluationsModule {}
