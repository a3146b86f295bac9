import { Module } from '@nestjs/common';
import { ChartLimitsModule } from '../chart-limits/chart-limits.module.js';
import { ControlChartsModule } from '../control-charts/control-charts.module.js';
import { InstrumentsModule } from '../instruments/instruments.module.js';
import { NonconformancesModule } from '../nonconformances/nonconformances.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { ChartReactionsController } from './chart-reactions.controller.js';
import { ChartReactionsService } from './chart-reactions.service.js';

@Module({
  imports: [CasingStringsModule, ChartLimitsModule, ControlChartsModule, InstrumentsModule, NonconformancesModule],
  controllers: [ChartReactionsController],
  providers: [ChartReactionsService],
  exports: [ChartReactionsService],
})
export class ChartReactionsModule {}
