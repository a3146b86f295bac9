import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { CertificateAnswer, CertificateInput } from './certificate.dto.js';
import { CertificatesService } from './certificates.service.js';

const Routes = recordController({
  path: 'certificates', write: 'certificate:write', input: CertificateInput, answer: CertificateAnswer, filters: [],
});

@Controller('api/certificates')
export class CertificatesController extends Routes {
  constructor(certificates: CertificatesService) {
    super(certificates);
  }
}
