import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { SurveyAnswer, SurveyInput } from './survey.dto.js';
import { SurveysService } from './surveys.service.js';

const Routes = recordController({ path: 'surveys', write: 'survey:write', input: SurveyInput, answer: SurveyAnswer, filters: ['wellId'] });

@Controller('api/surveys')
export class SurveysController extends Routes {
  constructor(surveys: SurveysService) {
    super(surveys);
  }
}
