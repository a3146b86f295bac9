import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { QualificationAnswer, QualificationInput } from './qualification.dto.js';
import { QualificationsService } from './qualifications.service.js';

const Routes = recordController({
  path: 'qualifications', write: 'qualification:write', input: QualificationInput, answer: QualificationAnswer, filters: ['personId'],
});

@Controller('api/qualifications')
export class QualificationsController extends Routes {
  constructor(qualifications: QualificationsService) {
    super(qualifications);
  }
}
