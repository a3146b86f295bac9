import { Module } from '@nestjs/common';
import { ChartReactionsModule } from '../chart-reactions/chart-reactions.module.js';
import { ControlChartsModule } from '../control-charts/control-charts.module.js';
import { ExaminationsModule } from '../examinations/examinations.module.js';
import { IncomingChecksModule } from '../incoming-checks/incoming-checks.module.js';
import { IndicationEvaluationsModule } from '../indication-evaluations/indication-evaluations.module.js';
import { IndicationsModule } from '../indications/indications.module.js';
import { InspectionsModule } from '../inspections/inspections.module.js';
import { InstrumentsModule } from '../instruments/instruments.module.js';
import { LineModule } from '../line/line.module.js';
import { RejoinsModule } from '../rejoins/rejoins.module.js';
import { ReferenceChecksModule } from '../reference-checks/reference-checks.module.js';
import { RepairsModule } from '../repairs/repairs.module.js';
import { SeamEventsModule } from '../seam-events/seam-events.module.js';
import { SpliceStepsModule } from '../splice-steps/splice-steps.module.js';
import { SplicesModule } from '../splices/splices.module.js';
import { WeldProceduresModule } from '../weld-procedures/weld-procedures.module.js';
import { WeldsModule } from '../welds/welds.module.js';
import { MeasuredWork } from './measured-work.service.js';
import { WorkPlaces } from './work-places.service.js';

/** What was measured with which instrument, and where on the pipe that is. */
@Module({
  imports: [
    ChartReactionsModule, ControlChartsModule, ExaminationsModule, IncomingChecksModule, IndicationEvaluationsModule, IndicationsModule, InspectionsModule, InstrumentsModule, LineModule, RejoinsModule, ReferenceChecksModule, RepairsModule, SeamEventsModule, SpliceStepsModule, SplicesModule,
    WeldProceduresModule, WeldsModule,
  ],
  providers: [MeasuredWork, WorkPlaces],
  exports: [MeasuredWork, WorkPlaces],
})
export class MeasuredWorkModule {}
