import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { seamStopsQuestionOf } from './seam-stops-question.js';
import { SeamStopsAnswer } from './seam-stops.dto.js';
import { SeamStops } from './seam-stops.service.js';

@ApiTags('questions')
@Controller('api/casing-strings')
export class SeamStopsController {
  constructor(private readonly stops: SeamStops) {}

  @Get(':id/seam-stops')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What each stop of the seam weld affected',
    description:
      'Each stop with how long it lasted and, at the weld point and at each station of the line set-up then in force, the pipe that stood there: '
      + 'certainly and possibly, by the range and uncertainty of its path. Where record and counter say different footages, both are shown and taken in.',
  })
  @ApiParam({ name: 'id', description: 'The casing string.', format: 'uuid' })
  @ApiQuery({ name: 'influenceMm', required: false, description: 'Half length of pipe to each side that a stop affects, whole mm; 0 when absent.', example: '150' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: SeamStopsAnswer, description: 'The stops.' })
  of(@Param('id') id: string, @Query() query: AnyQuery): Promise<SeamStopsAnswer> {
    return this.stops.of(pathId(id), seamStopsQuestionOf(query));
  }
}
