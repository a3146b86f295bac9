import { Module } from '@nestjs/common';
import { ControlPlansModule } from '../control-plans/control-plans.module.js';
import { LineModule } from '../line/line.module.js';
import { NonconformancesModule } from '../nonconformances/nonconformances.module.js';
import { EvidenceWaiversController } from './evidence-waivers.controller.js';
import { EvidenceWaiversService } from './evidence-waivers.service.js';

@Module({
  imports: [ControlPlansModule, LineModule, NonconformancesModule],
  controllers: [EvidenceWaiversController],
  providers: [EvidenceWaiversService],
  exports: [EvidenceWaiversService],
})
export class EvidenceWaiversModule {}
