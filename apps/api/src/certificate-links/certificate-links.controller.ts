import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { CertificateLinkAnswer, CertificateLinkInput } from './certificate-link.dto.js';
import { CertificateLinksService } from './certificate-links.service.js';

const Routes = recordController({
  path: 'certificate-links', write: 'certificate-link:write', input: CertificateLinkInput, answer: CertificateLinkAnswer,
  filters: ['certificateId', 'coilId'],
});

@Controller('api/certificate-links')
export class CertificateLinksController extends Routes {
  constructor(links: CertificateLinksService) {
    super(links);
  }
}
