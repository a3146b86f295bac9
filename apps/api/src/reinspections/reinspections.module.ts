import { Module } from '@nestjs/common';
import { ExaminationsModule } from '../examinations/examinations.module.js';
import { InspectionsModule } from '../inspections/inspections.module.js';
import { LineModule } from '../line/line.module.js';
import { RejoinsModule } from '../rejoins/rejoins.module.js';
import { RepairsModule } from '../repairs/repairs.module.js';
import { SpliceStepsModule } from '../splice-steps/splice-steps.module.js';
import { SplicesModule } from '../splices/splices.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { WeldsModule } from '../welds/welds.module.js';
import { ReinspectionsController } from './reinspections.controller.js';
import { Reinspections } from './reinspections.service.js';
import { RepairHistories } from './repair-histories.service.js';

@Module({
  imports: [CasingStringsModule, ExaminationsModule, InspectionsModule, LineModule, RejoinsModule, RepairsModule, SpliceStepsModule, SplicesModule, WeldsModule],
  controllers: [ReinspectionsController],
  providers: [Reinspections, RepairHistories],
  exports: [Reinspections, RepairHistories],
})
export class ReinspectionsModule {}
