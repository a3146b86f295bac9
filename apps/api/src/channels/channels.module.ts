import { Module } from '@nestjs/common';
import { LineModule } from '../line/line.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { ChannelsController } from './channels.controller.js';
import { ChannelsService } from './channels.service.js';

@Module({
  imports: [CasingStringsModule, LineModule],
  controllers: [ChannelsController],
  providers: [ChannelsService],
  exports: [ChannelsService],
})
export class ChannelsModule {}
