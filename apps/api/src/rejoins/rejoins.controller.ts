import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { RejoinAnswer, RejoinInput } from './rejoin.dto.js';
import { RejoinsService } from './rejoins.service.js';

const Routes = recordController({
  path: 'rejoins',
  write: 'rejoin:write',
  input: RejoinInput,
  answer: RejoinAnswer,
  filters: ['stringId', 'cutOutId'],
});

@Controller('api/rejoins')
export class RejoinsController extends Routes {
  constructor(rejoins: RejoinsService) {
    super(rejoins);
  }
}
