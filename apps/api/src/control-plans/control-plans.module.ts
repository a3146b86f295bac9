import { Module } from '@nestjs/common';
import { ChannelsModule } from '../channels/channels.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { ControlPlansController } from './control-plans.controller.js';
import { ControlPlansService } from './control-plans.service.js';

@Module({
  imports: [CasingStringsModule, ChannelsModule],
  controllers: [ControlPlansController],
  providers: [ControlPlansService],
  exports: [ControlPlansService],
})
export class ControlPlansModule {}
