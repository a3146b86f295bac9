import { Module } from '@nestjs/common';
import { CoilsModule } from '../coils/coils.module.js';
import { ExaminationsModule } from '../examinations/examinations.module.js';
import { ReinspectionsModule } from '../reinspections/reinspections.module.js';
import { SpliceArrivalsModule } from '../splice-arrivals/splice-arrivals.module.js';
import { SpliceStepsModule } from '../splice-steps/splice-steps.module.js';
import { SplicesModule } from '../splices/splices.module.js';
import { WeldChecksModule } from '../weld-checks/weld-checks.module.js';
import { WeldsModule } from '../welds/welds.module.js';
import { WorkChecksModule } from '../work-checks/work-checks.module.js';
import { SpliceEntry } from './splice-entry.service.js';
import { SpliceRecordsController } from './splice-records.controller.js';
import { SpliceRecords } from './splice-records.service.js';

@Module({
  imports: [
    CoilsModule, ExaminationsModule, ReinspectionsModule, SpliceArrivalsModule, SpliceStepsModule, SplicesModule, WeldChecksModule, WeldsModule, WorkChecksModule,
  ],
  controllers: [SpliceRecordsController],
  providers: [SpliceRecords, SpliceEntry],
})
export class SpliceRecordsModule {}
