import { Module } from '@nestjs/common';
import { CertificatesModule } from '../certificates/certificates.module.js';
import { CoilsModule } from '../coils/coils.module.js';
import { HeatsModule } from '../heats/heats.module.js';
import { InspectionsModule } from '../inspections/inspections.module.js';
import { LineModule } from '../line/line.module.js';
import { NonconformancesModule } from '../nonconformances/nonconformances.module.js';
import { RejoinsModule } from '../rejoins/rejoins.module.js';
import { CoilSegmentsModule } from '../segments/coil-segments.module.js';
import { SplicesModule } from '../splices/splices.module.js';
import { SurveysModule } from '../surveys/surveys.module.js';
import { WellsModule } from '../wells/wells.module.js';
import { EvidenceReader } from './evidence.service.js';
import { Grounds } from './grounds.service.js';
import { TraceController } from './trace.controller.js';
import { TraceService } from './trace.service.js';

/** From a depth, in both walls, to everything on record about it. */
@Module({
  imports: [
    CertificatesModule, CoilsModule, HeatsModule, InspectionsModule, LineModule, NonconformancesModule, RejoinsModule,
    CoilSegmentsModule, SplicesModule, SurveysModule, WellsModule,
  ],
  controllers: [TraceController],
  providers: [EvidenceReader, Grounds, TraceService],
  exports: [Grounds, TraceService],
})
export class TraceModule {}
