import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { WellAnswer, WellInput } from './well.dto.js';
import { WellsService } from './wells.service.js';

const Routes = recordController({ path: 'wells', write: 'well:write', input: WellInput, answer: WellAnswer, filters: [] });

@Controller('api/wells')
export class WellsController extends Routes {
  constructor(wells: WellsService) {
    super(wells);
  }
}
