import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { ChartReactionAnswer, ChartReactionInput } from './chart-reaction.dto.js';
import { ChartReactionsService } from './chart-reactions.service.js';

const Routes = recordController({
  path: 'chart-reactions', write: 'chart-reaction:write', input: ChartReactionInput, answer: ChartReactionAnswer, filters: ['stringId', 'chartId', 'repeatedWithInstrumentId', 'nonconformanceId'],
});

@Controller('api/chart-reactions')
export class ChartReactionsController extends Routes {
  constructor(reactions: ChartReactionsService) {
    super(reactions);
  }
}
