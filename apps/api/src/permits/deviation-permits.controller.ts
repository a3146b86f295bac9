import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { DeviationPermitAnswer, DeviationPermitInput } from './deviation-permit.dto.js';
import { DeviationPermitsService } from './deviation-permits.service.js';

const Routes = recordController({
  path: 'deviation-permits', write: 'deviation-permit:write', input: DeviationPermitInput, answer: DeviationPermitAnswer, filters: ['coilId'],
});

@Controller('api/deviation-permits')
export class DeviationPermitsController extends Routes {
  constructor(permits: DeviationPermitsService) {
    super(permits);
  }
}
