import { Module } from '@nestjs/common';
import { CertificateLinksModule } from '../certificate-links/certificate-links.module.js';
import { InspectionsModule } from '../inspections/inspections.module.js';
import { LineModule } from '../line/line.module.js';
import { NonconformancesModule } from '../nonconformances/nonconformances.module.js';
import { CoilSegmentsModule } from '../segments/coil-segments.module.js';
import { TraceModule } from '../trace/trace.module.js';
import { ConcernedRecords } from './concerned-records.service.js';
import { ConcernedStrips } from './concerned-strip.service.js';
import { RecallController } from './recall.controller.js';
import { RecallService } from './recall.service.js';
import { RecordFinder } from './record-finder.service.js';

/** From one record to all the pipe that it concerns. */
@Module({
  imports: [CertificateLinksModule, InspectionsModule, LineModule, NonconformancesModule, CoilSegmentsModule, TraceModule],
  controllers: [RecallController],
  providers: [ConcernedRecords, ConcernedStrips, RecallService, RecordFinder],
})
export class RecallModule {}
