import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { InspectionRunAnswer, InspectionRunInput } from './inspection-run.dto.js';
import { InspectionRunsService } from './inspection-runs.service.js';

const Routes = recordController({
  path: 'inspection-runs', write: 'inspection-run:write', input: InspectionRunInput, answer: InspectionRunAnswer, filters: ['stringId', 'standardId'],
});

@Controller('api/inspection-runs')
export class InspectionRunsController extends Routes {
  constructor(runs: InspectionRunsService) {
    super(runs);
  }
}
