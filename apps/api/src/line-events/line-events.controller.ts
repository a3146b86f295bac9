import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { LineEventsAnswer } from './line-events.dto.js';
import { lineEventsQuestionOf } from './line-events-question.js';
import { LineEvents } from './line-events.service.js';

@ApiTags('questions')
@Controller('api/casing-strings')
export class LineEventsController {
  constructor(private readonly events: LineEvents) {}

  @Get(':id/line-events')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'Stops, reversals, odd speeds and the upper end that no channel has seen',
    description:
      'As readings of the counter and samples tell it: which pipe stood at which channel, which was read more than once and which look counts, '
      + 'what went by outside the window of speed of a channel, and what was made and has not passed each channel.',
  })
  @ApiParam({ name: 'id', description: 'The casing string.', format: 'uuid' })
  @ApiQuery({ name: 'slowMPerMin', required: false, description: 'The line stands at this speed or slower, m/min; 0.1 when absent.', example: '0.1' })
  @ApiQuery({ name: 'stopS', required: false, description: 'It has stopped when that lasts so many seconds; 60 when absent.', example: '60' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: LineEventsAnswer, description: 'What the line did.' })
  of(@Param('id') id: string, @Query() query: AnyQuery): Promise<LineEventsAnswer> {
    return this.events.of(pathId(id), lineEventsQuestionOf(query));
  }
}
