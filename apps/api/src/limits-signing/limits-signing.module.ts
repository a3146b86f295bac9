import { Module } from '@nestjs/common';
import { ChartLimitsModule } from '../chart-limits/chart-limits.module.js';
import { ChartingModule } from '../charting/charting.module.js';
import { ControlChartsModule } from '../control-charts/control-charts.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { LimitsSignings } from './limits-signings.service.js';
import { LimitsSigningsController } from './limits-signings.controller.js';

/** Limits of control charts: their signatures and withdrawals. */
@Module({
  imports: [ChartLimitsModule, ChartingModule, ControlChartsModule, CasingStringsModule],
  controllers: [LimitsSigningsController],
  providers: [LimitsSignings],
})
export class LimitsSigningModule {}
