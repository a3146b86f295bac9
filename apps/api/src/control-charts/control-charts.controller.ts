import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { ControlChartAnswer, ControlChartInput } from './control-chart.dto.js';
import { ControlChartsService } from './control-charts.service.js';

const Routes = recordController({
  path: 'control-charts', write: 'control-chart:write', input: ControlChartInput, answer: ControlChartAnswer, filters: ['stringId'],
});

@Controller('api/control-charts')
export class ControlChartsController extends Routes {
  constructor(charts: ControlChartsService) {
    super(charts);
  }
}
