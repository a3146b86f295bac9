import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { MEASURES, traceQuestionOf, type Query as TraceQuery } from './trace-question.js';
import { TraceAnswer } from './trace.dto.js';
import { TraceService } from './trace.service.js';

@ApiTags('questions')
@Controller('api/casing-strings')
export class TraceController {
  constructor(private readonly traces: TraceService) {}

  @Get(':id/trace')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What stands at a depth, in both walls',
    description:
      'By measured depth, true vertical depth or footage; an interval or, without toM, a point. The inner wall moves: '
      + 'it is told for a time, for a shoe depth, or for the last reading. What evidence is missing is always told.',
  })
  @ApiParam({ name: 'id', description: 'The casing string.', format: 'uuid' })
  @ApiQuery({ name: 'by', required: false, enum: MEASURES, description: 'The measure of fromM and toM; md when absent.', example: 'md' })
  @ApiQuery({ name: 'fromM', description: 'Where the interval begins, metres.', example: '212.0' })
  @ApiQuery({ name: 'toM', required: false, description: 'Where it ends, metres; not part of it.', example: '214.5' })
  @ApiQuery({ name: 'at', required: false, description: 'The inner wall at this time.', example: '2026-03-12T16:00:00Z' })
  @ApiQuery({ name: 'shoeMdM', required: false, description: 'The inner wall with the shoe at this depth, metres.', example: '598.3' })
  @KnownAtQuery()
  @ApiQuery({ name: 'explain', required: false, enum: ['true', 'false'], description: 'Each step with its inputs.', example: 'true' })
  @ApiResponse({ status: 200, type: TraceAnswer, description: 'Both walls.' })
  trace(@Param('id') id: string, @Query() query: TraceQuery): Promise<TraceAnswer> {
    return this.traces.trace(pathId(id), traceQuestionOf(query));
  }
}
