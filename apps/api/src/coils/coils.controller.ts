import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { CoilAnswer, CoilInput } from './coil.dto.js';
import { CoilsService } from './coils.service.js';

const Routes = recordController({
  path: 'coils', write: 'coil:write', input: CoilInput, answer: CoilAnswer, filters: ['heatId', 'certificateId', 'orderId'],
});

@Controller('api/coils')
export class CoilsController extends Routes {
  constructor(coils: CoilsService) {
    super(coils);
  }
}
