import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { HandoverAnswer, HandoverInput } from './handover.dto.js';
import { HandoversService } from './handovers.service.js';

const Routes = recordController({
  path: 'handovers', write: 'handover:write', input: HandoverInput, answer: HandoverAnswer, filters: ['stringId', 'shiftId', 'nextShiftId'],
});

@Controller('api/handovers')
export class HandoversController extends Routes {
  constructor(handovers: HandoversService) {
    super(handovers);
  }
}
