import { Module } from '@nestjs/common';
import { WeldProceduresModule } from '../weld-procedures/weld-procedures.module.js';
import { WeldsModule } from '../welds/welds.module.js';
import { WorkStandingsModule } from '../work-standing/work-standings.module.js';
import { WeldChecksController } from './weld-checks.controller.js';
import { WeldChecks } from './weld-checks.service.js';

@Module({
  imports: [WeldProceduresModule, WeldsModule, WorkStandingsModule],
  controllers: [WeldChecksController],
  providers: [WeldChecks],
  exports: [WeldChecks],
})
export class WeldChecksModule {}
