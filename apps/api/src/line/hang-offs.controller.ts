import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { HangOffAnswer, HangOffInput } from './hang-off.dto.js';
import { HangOffsService } from './hang-offs.service.js';

const Routes = recordController({
  path: 'hang-offs',
  write: 'hang-off:write',
  input: HangOffInput,
  answer: HangOffAnswer,
  filters: ['stringId'],
});

@Controller('api/hang-offs')
export class HangOffsController extends Routes {
  constructor(records: HangOffsService) {
    super(records);
  }
}
