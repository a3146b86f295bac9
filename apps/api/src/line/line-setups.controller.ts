import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { LineSetupAnswer, LineSetupInput } from './line-setup.dto.js';
import { LineSetupsService } from './line-setups.service.js';

const Routes = recordController({
  path: 'line-setups',
  write: 'line-setup:write',
  input: LineSetupInput,
  answer: LineSetupAnswer,
  filters: ['stringId'],
});

@Controller('api/line-setups')
export class LineSetupsController extends Routes {
  constructor(records: LineSetupsService) {
    super(records);
  }
}
