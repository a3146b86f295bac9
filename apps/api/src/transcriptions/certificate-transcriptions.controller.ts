import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { CertificateTranscriptionAnswer, CertificateTranscriptionInput } from './certificate-transcription.dto.js';
import { CertificateTranscriptionsService } from './certificate-transcriptions.service.js';

const Routes = recordController({
  path: 'certificate-transcriptions', write: 'certificate-transcription:write', input: CertificateTranscriptionInput,
  answer: CertificateTranscriptionAnswer, filters: ['certificateId'],
});

@Controller('api/certificate-transcriptions')
export class CertificateTranscriptionsController extends Routes {
  constructor(transcriptions: CertificateTranscriptionsService) {
    super(transcriptions);
  }
}
