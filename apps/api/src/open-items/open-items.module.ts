import { Module } from '@nestjs/common';
import { ChartingModule } from '../charting/charting.module.js';
import { ControlChartsModule } from '../control-charts/control-charts.module.js';
import { DestructiveCoverageModule } from '../destructive-coverage/destructive-coverage.module.js';
import { EvidenceModule } from '../evidence/evidence.module.js';
import { ExaminationsModule } from '../examinations/examinations.module.js';
import { HandoverAcceptancesModule } from '../handover-acceptances/handover-acceptances.module.js';
import { HandoversModule } from '../handovers/handovers.module.js';
import { IndicationStandingsModule } from '../indication-standing/indication-standings.module.js';
import { InspectionsModule } from '../inspections/inspections.module.js';
import { LineModule } from '../line/line.module.js';
import { NonconformancesModule } from '../nonconformances/nonconformances.module.js';
import { ReinspectionsModule } from '../reinspections/reinspections.module.js';
import { RejoinsModule } from '../rejoins/rejoins.module.js';
import { SeamEventsModule } from '../seam-events/seam-events.module.js';
import { CoilSegmentsModule } from '../segments/coil-segments.module.js';
import { SpliceStepsModule } from '../splice-steps/splice-steps.module.js';
import { SplicesModule } from '../splices/splices.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { StringRecordsModule } from '../string-records/string-records.module.js';
import { WeldsModule } from '../welds/welds.module.js';
import { OpenItemsController } from './open-items.controller.js';
import { OpenItems } from './open-items.service.js';
import { OpenWork } from './open-work.service.js';
import { WaitingSignals } from './waiting-signals.service.js';

/** What a shift lead has to hand over. */
@Module({
  imports: [
    CasingStringsModule, ChartingModule, CoilSegmentsModule, ControlChartsModule, DestructiveCoverageModule, EvidenceModule, ExaminationsModule, HandoverAcceptancesModule, HandoversModule, IndicationStandingsModule, InspectionsModule, LineModule, NonconformancesModule, ReinspectionsModule, RejoinsModule, SeamEventsModule,
    SpliceStepsModule, SplicesModule, StringRecordsModule, WeldsModule,
  ],
  controllers: [OpenItemsController],
  providers: [OpenItems, OpenWork, WaitingSignals],
})
export class OpenItemsModule {}
