import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { EvidenceWaiverAnswer, EvidenceWaiverInput } from './evidence-waiver.dto.js';
import { EvidenceWaiversService } from './evidence-waivers.service.js';

const Routes = recordController({
  path: 'evidence-waivers', write: 'evidence-waiver:write', input: EvidenceWaiverInput, answer: EvidenceWaiverAnswer, filters: ['stringId', 'nonconformanceId'],
});

@Controller('api/evidence-waivers')
export class EvidenceWaiversController extends Routes {
  constructor(waivers: EvidenceWaiversService) {
    super(waivers);
  }
}
