import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { InspectionAnswer, InspectionInput } from './inspection.dto.js';
import { InspectionsService } from './inspections.service.js';

const Routes = recordController({
  path: 'inspections',
  write: 'inspection:write',
  input: InspectionInput,
  answer: InspectionAnswer,
  filters: ['stringId', 'instrumentId'],
});

@Controller('api/inspections')
export class InspectionsController extends Routes {
  constructor(inspections: InspectionsService) {
    super(inspections);
  }
}
