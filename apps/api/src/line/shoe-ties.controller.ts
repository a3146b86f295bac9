import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { ShoeTieAnswer, ShoeTieInput } from './shoe-tie.dto.js';
import { ShoeTiesService } from './shoe-ties.service.js';

const Routes = recordController({
  path: 'shoe-ties',
  write: 'shoe-tie:write',
  input: ShoeTieInput,
  answer: ShoeTieAnswer,
  filters: ['stringId'],
});

@Controller('api/shoe-ties')
export class ShoeTiesController extends Routes {
  constructor(records: ShoeTiesService) {
    super(records);
  }
}
