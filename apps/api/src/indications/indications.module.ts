import { Module } from '@nestjs/common';
import { ChannelsModule } from '../channels/channels.module.js';
import { LineModule } from '../line/line.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { IndicationsController } from './indications.controller.js';
import { IndicationsService } from './indications.service.js';

@Module({
  imports: [CasingStringsModule, ChannelsModule, LineModule],
  controllers: [IndicationsController],
  providers: [IndicationsService],
  exports: [IndicationsService],
})
export class IndicationsModule {}
