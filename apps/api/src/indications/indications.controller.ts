import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { IndicationAnswer, IndicationInput } from './indication.dto.js';
import { IndicationsService } from './indications.service.js';

const Routes = recordController({
  path: 'indications', write: 'indication:write', input: IndicationInput, answer: IndicationAnswer, filters: ['stringId', 'detectionId'],
});

@Controller('api/indications')
export class IndicationsController extends Routes {
  constructor(indications: IndicationsService) {
    super(indications);
  }
}
