import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { TestSampleAnswer, TestSampleInput } from './test-sample.dto.js';
import { TestSamplesService } from './test-samples.service.js';

const Routes = recordController({
  path: 'test-samples', write: 'test-sample:write', input: TestSampleInput, answer: TestSampleAnswer, filters: ['stringId', 'coilId', 'spliceId'],
});

@Controller('api/test-samples')
export class TestSamplesController extends Routes {
  constructor(samples: TestSamplesService) {
    super(samples);
  }
}
