import { Module } from '@nestjs/common';
import { CoilsModule } from '../coils/coils.module.js';
import { LineModule } from '../line/line.module.js';
import { NonconformancesModule } from '../nonconformances/nonconformances.module.js';
import { PeopleModule } from '../people/people.module.js';
import { CoilSegmentsModule } from '../segments/coil-segments.module.js';
import { TraceModule } from '../trace/trace.module.js';
import { ReportPress } from './report-press.js';
import { ReportsController } from './reports.controller.js';
import { ReportsService } from './reports.service.js';

/** Records as documents to print. */
@Module({
  imports: [CoilsModule, LineModule, NonconformancesModule, PeopleModule, CoilSegmentsModule, TraceModule],
  controllers: [ReportsController],
  providers: [ReportPress, ReportsService],
  exports: [ReportPress],
})
export class ReportsModule {}
