import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { ShiftEventAnswer, ShiftEventInput } from './shift-event.dto.js';
import { ShiftEventsService } from './shift-events.service.js';

const Routes = recordController({
  path: 'shift-events', write: 'shift-event:write', input: ShiftEventInput, answer: ShiftEventAnswer, filters: ['stringId', 'shiftId'],
});

@Controller('api/shift-events')
export class ShiftEventsController extends Routes {
  constructor(events: ShiftEventsService) {
    super(events);
  }
}
