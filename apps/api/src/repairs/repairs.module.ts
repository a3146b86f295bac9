import { Module } from '@nestjs/common';
import { FilesModule } from '../files/files.module.js';
import { InspectionsModule } from '../inspections/inspections.module.js';
import { InstrumentsModule } from '../instruments/instruments.module.js';
import { LineModule } from '../line/line.module.js';
import { NonconformancesModule } from '../nonconformances/nonconformances.module.js';
import { RejoinsModule } from '../rejoins/rejoins.module.js';
import { SplicesModule } from '../splices/splices.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { WeldProceduresModule } from '../weld-procedures/weld-procedures.module.js';
import { RepairsController } from './repairs.controller.js';
import { RepairsService } from './repairs.service.js';

@Module({
  imports: [
    CasingStringsModule, FilesModule, InspectionsModule, InstrumentsModule, LineModule, NonconformancesModule, RejoinsModule, SplicesModule,
    WeldProceduresModule,
  ],
  controllers: [RepairsController],
  providers: [RepairsService],
  exports: [RepairsService],
})
export class RepairsModule {}
