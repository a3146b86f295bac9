import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { DestructiveTestAnswer, DestructiveTestInput } from './destructive-test.dto.js';
import { DestructiveTestsService } from './destructive-tests.service.js';

const Routes = recordController({
  path: 'destructive-tests', write: 'destructive-test:write', input: DestructiveTestInput, answer: DestructiveTestAnswer,
  filters: ['stringId', 'testSampleId', 'followsTestId'],
});

@Controller('api/destructive-tests')
export class DestructiveTestsController extends Routes {
  constructor(tests: DestructiveTestsService) {
    super(tests);
  }
}
