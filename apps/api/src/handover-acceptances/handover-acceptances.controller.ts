import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { HandoverAcceptanceAnswer, HandoverAcceptanceInput } from './handover-acceptance.dto.js';
import { HandoverAcceptancesService } from './handover-acceptances.service.js';

const Routes = recordController({
  path: 'handover-acceptances', write: 'handover-acceptance:write', input: HandoverAcceptanceInput, answer: HandoverAcceptanceAnswer,
  filters: ['stringId', 'handoverId'],
});

@Controller('api/handover-acceptances')
export class HandoverAcceptancesController extends Routes {
  constructor(acceptances: HandoverAcceptancesService) {
    super(acceptances);
  }
}
