import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { SignalMarkAnswer, SignalMarkInput } from './signal-mark.dto.js';
import { SignalMarksService } from './signal-marks.service.js';

const Routes = recordController({
  path: 'signal-marks', write: 'signal-mark:write', input: SignalMarkInput, answer: SignalMarkAnswer, filters: ['stringId', 'runId'],
});

@Controller('api/signal-marks')
export class SignalMarksController extends Routes {
  constructor(marks: SignalMarksService) {
    super(marks);
  }
}
