import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { CutOutAnswer, CutOutInput } from './cut-out.dto.js';
import { CutOutsService } from './cut-outs.service.js';

const Routes = recordController({
  path: 'cut-outs',
  write: 'cut-out:write',
  input: CutOutInput,
  answer: CutOutAnswer,
  filters: ['stringId'],
});

@Controller('api/cut-outs')
export class CutOutsController extends Routes {
  constructor(records: CutOutsService) {
    super(records);
  }
}
