import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { CasingStringAnswer, CasingStringInput } from './casing-string.dto.js';
import { CasingStringsService } from './casing-strings.service.js';

const Routes = recordController({
  path: 'casing-strings', write: 'casing-string:write', input: CasingStringInput, answer: CasingStringAnswer,
  filters: ['wellId'],
});

@Controller('api/casing-strings')
export class CasingStringsController extends Routes {
  constructor(strings: CasingStringsService) {
    super(strings);
  }
}
