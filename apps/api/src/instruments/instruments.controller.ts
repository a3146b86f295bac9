import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { InstrumentAnswer, InstrumentInput } from './instrument.dto.js';
import { InstrumentsService } from './instruments.service.js';

const Routes = recordController({
  path: 'instruments', write: 'instrument:write', input: InstrumentInput, answer: InstrumentAnswer, filters: [],
});

@Controller('api/instruments')
export class InstrumentsController extends Routes {
  constructor(instruments: InstrumentsService) {
    super(instruments);
  }
}
