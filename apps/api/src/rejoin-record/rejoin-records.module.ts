import { Module } from '@nestjs/common';
import { ExaminationsModule } from '../examinations/examinations.module.js';
import { InspectionsModule } from '../inspections/inspections.module.js';
import { LineModule } from '../line/line.module.js';
import { RejoinsModule } from '../rejoins/rejoins.module.js';
import { ReinspectionsModule } from '../reinspections/reinspections.module.js';
import { WeldsModule } from '../welds/welds.module.js';
import { RejoinRecordsController } from './rejoin-records.controller.js';
import { RejoinRecords } from './rejoin-records.service.js';

@Module({
  imports: [ExaminationsModule, InspectionsModule, LineModule, ReinspectionsModule, RejoinsModule, WeldsModule],
  controllers: [RejoinRecordsController],
  providers: [RejoinRecords],
})
export class RejoinRecordsModule {}
