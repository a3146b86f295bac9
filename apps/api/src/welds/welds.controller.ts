import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { WeldAnswer, WeldInput } from './weld.dto.js';
import { WeldsService } from './welds.service.js';

const Routes = recordController({
  path: 'welds', write: 'weld:write', input: WeldInput, answer: WeldAnswer, filters: ['stringId', 'spliceId', 'rejoinId', 'weldProcedureId'],
});

@Controller('api/welds')
export class WeldsController extends Routes {
  constructor(welds: WeldsService) {
    super(welds);
  }
}
