import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { RepairAnswer, RepairInput } from './repair.dto.js';
import { RepairsService } from './repairs.service.js';

const Routes = recordController({
  path: 'repairs', write: 'repair:write', input: RepairInput, answer: RepairAnswer,
  filters: ['stringId', 'spliceId', 'rejoinId', 'inspectionId', 'nonconformanceId', 'instrumentId', 'weldProcedureId'],
});

@Controller('api/repairs')
export class RepairsController extends Routes {
  constructor(repairs: RepairsService) {
    super(repairs);
  }
}
