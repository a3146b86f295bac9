import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { ReferenceCheckAnswer, ReferenceCheckInput } from './reference-check.dto.js';
import { ReferenceChecksService } from './reference-checks.service.js';

const Routes = recordController({
  path: 'reference-checks', write: 'reference-check:write', input: ReferenceCheckInput, answer: ReferenceCheckAnswer, filters: ['stringId', 'runId', 'standardId'],
});

@Controller('api/reference-checks')
export class ReferenceChecksController extends Routes {
  constructor(checks: ReferenceChecksService) {
    super(checks);
  }
}
