import { Module } from '@nestjs/common';
import { CalibrationsModule } from '../calibrations/calibrations.module.js';
import { CertificateLinksModule } from '../certificate-links/certificate-links.module.js';
import { InspectionsModule } from '../inspections/inspections.module.js';
import { LineModule } from '../line/line.module.js';
import { MeasuredWorkModule } from '../measured-work/measured-work.module.js';
import { NonconformancesModule } from '../nonconformances/nonconformances.module.js';
import { QualifiedModule } from '../qualified/qualified.module.js';
import { CoilSegmentsModule } from '../segments/coil-segments.module.js';
import { TraceModule } from '../trace/trace.module.js';
import { WorkChecksModule } from '../work-checks/work-checks.module.js';
import { ConcernedMeasurements } from './concerned-measurements.service.js';
import { ConcernedNonconformances } from './concerned-nonconformances.service.js';
import { ConcernedPeople } from './concerned-people.service.js';
import { ConcernedQualifiedWork } from './concerned-qualified-work.service.js';
import { ConcernedRecords } from './concerned-records.service.js';
import { ConcernedStrips } from './concerned-strip.service.js';
import { ConcernedWelds } from './concerned-welds.service.js';
import { LocatedWork } from './located-work.service.js';
import { RecallController } from './recall.controller.js';
import { RecallService } from './recall.service.js';
import { RecordFinder } from './record-finder.service.js';

/** From one record to all the pipe that it concerns. */
@Module({
  imports: [CalibrationsModule, CertificateLinksModule, InspectionsModule, LineModule, MeasuredWorkModule, NonconformancesModule, CoilSegmentsModule, QualifiedModule, TraceModule, WorkChecksModule],
  controllers: [RecallController],
  providers: [
    ConcernedMeasurements, ConcernedNonconformances, ConcernedPeople, ConcernedQualifiedWork, ConcernedRecords, ConcernedStrips, ConcernedWelds, LocatedWork, RecallService, RecordFinder,
  ],
})
export class RecallModule {}
