import { Module } from '@nestjs/common';
import { CertificatesModule } from '../certificates/certificates.module.js';
import { CertificateTranscriptionsController } from './certificate-transcriptions.controller.js';
import { CertificateTranscriptionsService } from './certificate-transcriptions.service.js';
import { En10168Controller } from './en10168.controller.js';
import { VerificationController } from './verification.controller.js';

@Module({
  imports: [CertificatesModule],
  controllers: [En10168Controller, CertificateTranscriptionsController, VerificationController],
  providers: [CertificateTranscriptionsService],
  exports: [CertificateTranscriptionsService],
})
export class CertificateTranscriptionsModule {}
