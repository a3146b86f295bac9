import { Module } from '@nestjs/common';
import { CharacteristicsModule } from '../characteristics/characteristics.module.js';
import { ChartLimitsModule } from '../chart-limits/chart-limits.module.js';
import { ChartReactionsModule } from '../chart-reactions/chart-reactions.module.js';
import { ControlChartsModule } from '../control-charts/control-charts.module.js';
import { LineModule } from '../line/line.module.js';
import { ReportsModule } from '../reports/reports.module.js';
import { CoilSegmentsModule } from '../segments/coil-segments.module.js';
import { WellsModule } from '../wells/wells.module.js';
import { Capabilities } from './capabilities.service.js';
import { ChartTrials } from './chart-trials.service.js';
import { ChartedPipes } from './charted-pipe.service.js';
import { ChartingController } from './charting.controller.js';
import { ControlChartViews } from './control-chart-views.service.js';
import { ControlChartAnswers } from './control-charts-answers.service.js';
import { StringSignals } from './string-signals.service.js';
import { TrialLimits } from './trial-limits.service.js';

/** Control charts as questions: limits that pipe would give, readings against limits, signals, capability. */
@Module({
  imports: [CharacteristicsModule, ChartLimitsModule, ChartReactionsModule, CoilSegmentsModule, ControlChartsModule, LineModule, ReportsModule, WellsModule],
  controllers: [ChartingController],
  providers: [Capabilities, ChartTrials, ChartedPipes, ControlChartAnswers, ControlChartViews, StringSignals, TrialLimits],
  exports: [ChartTrials, StringSignals],
})
export class ChartingModule {}
