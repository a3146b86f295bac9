import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { SpliceAnswer, SpliceInput } from './splice.dto.js';
import { SplicesService } from './splices.service.js';

const Routes = recordController({
  path: 'splices',
  write: 'splice:write',
  input: SpliceInput,
  answer: SpliceAnswer,
  filters: ['stringId', 'leavingCoilId', 'enteringCoilId'],
});

@Controller('api/splices')
export class SplicesController extends Routes {
  constructor(splices: SplicesService) {
    super(splices);
  }
}
