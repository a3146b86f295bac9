import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { HeatAnswer, HeatInput } from './heat.dto.js';
import { HeatsService } from './heats.service.js';

const Routes = recordController({ path: 'heats', write: 'heat:write', input: HeatInput, answer: HeatAnswer, filters: [] });

@Controller('api/heats')
export class HeatsController extends Routes {
  constructor(heats: HeatsService) {
    super(heats);
  }
}
