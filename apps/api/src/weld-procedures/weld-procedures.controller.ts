import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { WeldProcedureAnswer, WeldProcedureInput } from './weld-procedure.dto.js';
import { WeldProceduresService } from './weld-procedures.service.js';

const Routes = recordController({
  path: 'weld-procedures', write: 'weld-procedure:write', input: WeldProcedureInput, answer: WeldProcedureAnswer, filters: [],
});

@Controller('api/weld-procedures')
export class WeldProceduresController extends Routes {
  constructor(procedures: WeldProceduresService) {
    super(procedures);
  }
}
