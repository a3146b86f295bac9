import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { ShiftAnswer, ShiftInput } from './shift.dto.js';
import { ShiftsService } from './shifts.service.js';

const Routes = recordController({ path: 'shifts', write: 'shift:write', input: ShiftInput, answer: ShiftAnswer, filters: ['stringId'] });

@Controller('api/shifts')
export class ShiftsController extends Routes {
  constructor(shifts: ShiftsService) {
    super(shifts);
  }
}
