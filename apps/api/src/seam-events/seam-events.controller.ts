import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { SeamEventAnswer, SeamEventInput } from './seam-event.dto.js';
import { SeamEventsService } from './seam-events.service.js';

const Routes = recordController({
  path: 'seam-events', write: 'seam-event:write', input: SeamEventInput, answer: SeamEventAnswer, filters: ['stringId', 'weldProcedureId'],
});

@Controller('api/seam-events')
export class SeamEventsController extends Routes {
  constructor(events: SeamEventsService) {
    super(events);
  }
}
