import { Module } from '@nestjs/common';
import { ChannelsModule } from '../channels/channels.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { IndicationRulesController } from './indication-rules.controller.js';
import { IndicationRulesService } from './indication-rules.service.js';

@Module({
  imports: [CasingStringsModule, ChannelsModule],
  controllers: [IndicationRulesController],
  providers: [IndicationRulesService],
  exports: [IndicationRulesService],
})
export class IndicationRulesModule {}
