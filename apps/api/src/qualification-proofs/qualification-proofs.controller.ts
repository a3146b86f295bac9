import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { QualificationProofAnswer, QualificationProofInput } from './qualification-proof.dto.js';
import { QualificationProofsService } from './qualification-proofs.service.js';

const Routes = recordController({
  path: 'qualification-proofs', write: 'qualification-proof:write', input: QualificationProofInput, answer: QualificationProofAnswer,
  filters: ['personId', 'qualificationId'],
});

@Controller('api/qualification-proofs')
export class QualificationProofsController extends Routes {
  constructor(proofs: QualificationProofsService) {
    super(proofs);
  }
}
