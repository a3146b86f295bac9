import { Module } from '@nestjs/common';
import { CertificateLinksModule } from '../certificate-links/certificate-links.module.js';
import { CoilsModule } from '../coils/coils.module.js';
import { EvaluationModule } from '../evaluation/evaluation.module.js';
import { HeatsModule } from '../heats/heats.module.js';
import { IncomingChecksModule } from '../incoming-checks/incoming-checks.module.js';
import { StripOrdersModule } from '../orders/strip-orders.module.js';
import { StripSpecificationsModule } from '../specifications/strip-specifications.module.js';
import { CoilStandingsModule } from '../standing/coil-standings.module.js';
import { CertificateTranscriptionsModule } from '../transcriptions/certificate-transcriptions.module.js';
import { SupplierKnowledges } from './supplier-knowledge.service.js';
import { SupplierViews } from './supplier-views.service.js';
import { SuppliersController } from './suppliers.controller.js';

/** The coils of a mill taken together. */
@Module({
  imports: [
    StripOrdersModule, StripSpecificationsModule, CoilsModule, HeatsModule, CertificateLinksModule, CertificateTranscriptionsModule,
    IncomingChecksModule, CoilStandingsModule, EvaluationModule,
  ],
  controllers: [SuppliersController],
  providers: [SupplierKnowledges, SupplierViews],
})
export class SuppliersModule {}
