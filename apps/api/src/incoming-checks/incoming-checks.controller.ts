import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { IncomingCheckAnswer, IncomingCheckInput } from './incoming-check.dto.js';
import { IncomingChecksService } from './incoming-checks.service.js';

const Routes = recordController({
  path: 'incoming-checks', write: 'incoming-check:write', input: IncomingCheckInput, answer: IncomingCheckAnswer,
  filters: ['coilId', 'instrumentId'],
});

@Controller('api/incoming-checks')
export class IncomingChecksController extends Routes {
  constructor(checks: IncomingChecksService) {
    super(checks);
  }
}
