import { Module } from '@nestjs/common';
import { CertificatesModule } from '../certificates/certificates.module.js';
import { CoilsModule } from '../coils/coils.module.js';
import { CertificateLinksController } from './certificate-links.controller.js';
import { CertificateLinksService } from './certificate-links.service.js';

@Module({
  imports: [CertificatesModule, CoilsModule],
  controllers: [CertificateLinksController],
  providers: [CertificateLinksService],
  exports: [CertificateLinksService],
})
export class CertificateLinksModule {}
