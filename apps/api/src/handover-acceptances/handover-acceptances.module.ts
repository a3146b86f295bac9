import { Module } from '@nestjs/common';
import { HandoversModule } from '../handovers/handovers.module.js';
import { ShiftsModule } from '../shifts/shifts.module.js';
import { HandoverAcceptancesController } from './handover-acceptances.controller.js';
import { HandoverAcceptancesService } from './handover-acceptances.service.js';

@Module({
  imports: [HandoversModule, ShiftsModule],
  controllers: [HandoverAcceptancesController],
  providers: [HandoverAcceptancesService],
  exports: [HandoverAcceptancesService],
})
export class HandoverAcceptancesModule {}
