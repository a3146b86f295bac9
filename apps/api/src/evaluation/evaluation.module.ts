import { Module } from '@nestjs/common';
import { CertificateLinksModule } from '../certificate-links/certificate-links.module.js';
import { CertificatesModule } from '../certificates/certificates.module.js';
import { CoilsModule } from '../coils/coils.module.js';
import { FilesModule } from '../files/files.module.js';
import { HeatsModule } from '../heats/heats.module.js';
import { IncomingChecksModule } from '../incoming-checks/incoming-checks.module.js';
import { StripOrdersModule } from '../orders/strip-orders.module.js';
import { CoilReceiptsModule } from '../receipts/coil-receipts.module.js';
import { CoilSegmentsModule } from '../segments/coil-segments.module.js';
import { StripSpecificationsModule } from '../specifications/strip-specifications.module.js';
import { CoilStandingsModule } from '../standing/coil-standings.module.js';
import { CertificateTranscriptionsModule } from '../transcriptions/certificate-transcriptions.module.js';
import { CoilKnowledges } from './coil-knowledge.service.js';
import { EvaluationsController } from './evaluations.controller.js';
import { Evaluations } from './evaluations.service.js';
import { KeyedCertificates } from './keyed-certificates.service.js';

@Module({
  imports: [
    CoilsModule, HeatsModule, StripOrdersModule, StripSpecificationsModule, CertificatesModule, CertificateLinksModule,
    CertificateTranscriptionsModule, FilesModule, CoilReceiptsModule, IncomingChecksModule, CoilSegmentsModule, CoilStandingsModule,
  ],
  controllers: [EvaluationsController],
  providers: [CoilKnowledges, Evaluations, KeyedCertificates],
  exports: [Evaluations, KeyedCertificates, CoilStandingsModule],
})
export class EvaluationModule {}
