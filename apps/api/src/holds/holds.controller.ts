import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { HoldAnswer, HoldInput } from './hold.dto.js';
import { HoldsService } from './holds.service.js';

const Routes = recordController({ path: 'holds', write: 'hold:write', input: HoldInput, answer: HoldAnswer, filters: ['stringId'] });

@Controller('api/holds')
export class HoldsController extends Routes {
  constructor(holds: HoldsService) {
    super(holds);
  }
}
