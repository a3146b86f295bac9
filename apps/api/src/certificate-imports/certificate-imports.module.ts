import { Module } from '@nestjs/common';
import { CertificatesModule } from '../certificates/certificates.module.js';
import { FilesModule } from '../files/files.module.js';
import { StripOrdersModule } from '../orders/strip-orders.module.js';
import { StripSpecificationsModule } from '../specifications/strip-specifications.module.js';
import { CertificateTranscriptionsModule } from '../transcriptions/certificate-transcriptions.module.js';
import { CertificateBases } from './certificate-bases.service.js';
import { CertificateImportsController } from './certificate-imports.controller.js';
import { CertificateImports } from './certificate-imports.service.js';

@Module({
  imports: [CertificatesModule, CertificateTranscriptionsModule, FilesModule, StripOrdersModule, StripSpecificationsModule],
  controllers: [CertificateImportsController],
  providers: [CertificateBases, CertificateImports],
})
export class CertificateImportsModule {}
