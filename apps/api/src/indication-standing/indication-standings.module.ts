import { Module } from '@nestjs/common';
import { DetectionsModule } from '../detections/detections.module.js';
import { ExaminationsModule } from '../examinations/examinations.module.js';
import { IndicationEvaluationsModule } from '../indication-evaluations/indication-evaluations.module.js';
import { IndicationsModule } from '../indications/indications.module.js';
import { LineModule } from '../line/line.module.js';
import { RepairsModule } from '../repairs/repairs.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { TimesLeftModule } from '../time-left/times-left.module.js';
import { WorkStandingsModule } from '../work-standing/work-standings.module.js';
import { IndicationStandingsController } from './indication-standings.controller.js';
import { IndicationStandings } from './indication-standings.service.js';
import { OpenIndications } from './open-indications.service.js';

/** Where indications have come to, and which of them nothing settles. */
@Module({
  imports: [
    CasingStringsModule, DetectionsModule, ExaminationsModule, IndicationEvaluationsModule, IndicationsModule, LineModule, RepairsModule, TimesLeftModule, WorkStandingsModule,
  ],
  controllers: [IndicationStandingsController],
  providers: [IndicationStandings, OpenIndications],
  exports: [OpenIndications],
})
export class IndicationStandingsModule {}
