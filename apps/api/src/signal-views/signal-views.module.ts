import { Module } from '@nestjs/common';
import { ChannelsModule } from '../channels/channels.module.js';
import { IndicationsModule } from '../indications/indications.module.js';
import { InspectionProofsModule } from '../inspection-proof/inspection-proofs.module.js';
import { LineModule } from '../line/line.module.js';
import { ReferenceChecksModule } from '../reference-checks/reference-checks.module.js';
import { ReportsModule } from '../reports/reports.module.js';
import { SeamEventsModule } from '../seam-events/seam-events.module.js';
import { SignalMarksModule } from '../signal-marks/signal-marks.module.js';
import { SignalsModule } from '../signals/signals.module.js';
import { SplicesModule } from '../splices/splices.module.js';
import { WellsModule } from '../wells/wells.module.js';
import { SampleExports } from './sample-exports.service.js';
import { SignalViewsController } from './signal-views.controller.js';
import { SignalViews } from './signal-views.service.js';
import { StripCharts } from './strip-charts.service.js';
import { ViewMarks } from './view-marks.service.js';

/** Looking at signals: in columns, as a chart, as raw samples. */
@Module({
  imports: [ChannelsModule, IndicationsModule, InspectionProofsModule, LineModule, ReferenceChecksModule, ReportsModule, SeamEventsModule, SignalMarksModule, SignalsModule, SplicesModule, WellsModule],
  controllers: [SignalViewsController],
  providers: [SampleExports, SignalViews, StripCharts, ViewMarks],
})
export class SignalViewsModule {}
