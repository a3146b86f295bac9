import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { IndicationRuleAnswer, IndicationRuleInput } from './indication-rule.dto.js';
import { IndicationRulesService } from './indication-rules.service.js';

const Routes = recordController({
  path: 'indication-rules', write: 'indication-rule:write', input: IndicationRuleInput, answer: IndicationRuleAnswer, filters: ['stringId'],
});

@Controller('api/indication-rules')
export class IndicationRulesController extends Routes {
  constructor(rules: IndicationRulesService) {
    super(rules);
  }
}
