import { Module } from '@nestjs/common';
import { InstrumentStandingsModule } from '../instrument-standing/instrument-standings.module.js';
import { QualifiedModule } from '../qualified/qualified.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { WeldProceduresModule } from '../weld-procedures/weld-procedures.module.js';
import { WeldsModule } from '../welds/welds.module.js';
import { WellsModule } from '../wells/wells.module.js';
import { WeldChecksController } from './weld-checks.controller.js';
import { WeldChecks } from './weld-checks.service.js';

@Module({
  imports: [CasingStringsModule, InstrumentStandingsModule, QualifiedModule, WeldProceduresModule, WeldsModule, WellsModule],
  controllers: [WeldChecksController],
  providers: [WeldChecks],
  exports: [WeldChecks],
})
export class WeldChecksModule {}
