import { Controller, Get, Query } from '@nestjs/common';
import { ApiOperation, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { RUN_LENGTH_CHARTS, runLengthQuestionOf } from './run-length-question.js';
import { RunLengthAnswer } from './run-length.dto.js';
import { runLengths } from './run-lengths.js';

const decimal = (example: string): { type: string; example: string } => ({ type: 'string', example });

@ApiTags('questions')
@Controller('api/run-lengths')
export class RunLengthsController {
  @Get()
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What a choice of chart and rules costs in false alarms, and how soon it sees a change',
    description: 'Points until a signal, on average: in control, and after shifts of the process. Every rule that is added makes false alarms more frequent.',
  })
  @ApiQuery({ name: 'chart', required: false, enum: RUN_LENGTH_CHARTS, description: 'The chart; shewhart when absent.', example: 'shewhart' })
  @ApiQuery({ name: 'rules', required: false, description: 'Its run rules, with commas between; one-beyond-3-sigma when absent.', schema: decimal('one-beyond-3-sigma,eight-on-one-side') })
  @ApiQuery({ name: 'lambda', required: false, description: 'EWMA: weight of the newest value; 0.2 when absent.', schema: decimal('0.2') })
  @ApiQuery({ name: 'width', required: false, description: 'EWMA: half the width of the limits, in standard deviations of the average; 3 when absent.', schema: decimal('3') })
  @ApiQuery({ name: 'k', required: false, description: 'CUSUM: reference value, in standard deviations; 0.5 when absent.', schema: decimal('0.5') })
  @ApiQuery({ name: 'h', required: false, description: 'CUSUM: decision interval, in standard deviations; 5 when absent.', schema: decimal('5') })
  @ApiQuery({ name: 'shifts', required: false, description: 'Standard deviations by which the process moves, with commas between, up to 6; 0,0.5,1,2,3 when absent.', schema: decimal('0,1,2') })
  @ApiQuery({ name: 'phi', required: false, description: 'Autocorrelation of single values at lag 1, with the rule one-beyond-3-sigma alone; 0 when absent.', schema: decimal('0') })
  @ApiQuery({ name: 'charts', required: false, description: 'How many such charts are watched; 1 when absent.', schema: decimal('12') })
  @ApiQuery({ name: 'minutesAPoint', required: false, description: 'Minutes between points of each chart, to have run lengths in minutes too.', schema: decimal('1') })
  @ApiResponse({ status: 200, type: RunLengthAnswer, description: 'The run lengths.' })
  of(@Query() query: AnyQuery): Promise<RunLengthAnswer> {
    return runLengths(runLengthQuestionOf(query));
  }
}
