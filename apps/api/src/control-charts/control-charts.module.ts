import { Module } from '@nestjs/common';
import { ChannelsModule } from '../channels/channels.module.js';
import { ChartLimitsModule } from '../chart-limits/chart-limits.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { ControlChartsController } from './control-charts.controller.js';
import { ControlChartsService } from './control-charts.service.js';

@Module({
  imports: [CasingStringsModule, ChannelsModule, ChartLimitsModule],
  controllers: [ControlChartsController],
  providers: [ControlChartsService],
  exports: [ControlChartsService],
})
export class ControlChartsModule {}
