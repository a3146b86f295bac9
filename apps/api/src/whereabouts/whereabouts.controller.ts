import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { whereaboutsQuestionOf } from './whereabouts-question.js';
import { WhereaboutsAnswer } from './whereabouts.dto.js';
import { WhereaboutsService } from './whereabouts.service.js';

@ApiTags('questions')
@Controller('api/casing-strings')
export class WhereaboutsController {
  constructor(private readonly places: WhereaboutsService) {}

  @Get(':id/whereabouts')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'Where one metre of pipe is',
    description:
      'Exactly one place for any footage: not yet made, on the line (with the metres to each later station and to the '
      + 'hang-off), on the inner or outer wall at a depth, in the lead end, or cut out. At a time, with the shoe at a '
      + 'depth, or at the last reading.',
  })
  @ApiParam({ name: 'id', description: 'The casing string.', format: 'uuid' })
  @ApiQuery({ name: 'footageM', description: 'The footage, metres.', example: '212.0' })
  @ApiQuery({ name: 'at', required: false, description: 'At this time.', example: '2026-03-12T16:00:00Z' })
  @ApiQuery({ name: 'shoeMdM', required: false, description: 'With the shoe at this depth, metres.', example: '598.3' })
  @KnownAtQuery()
  @ApiQuery({ name: 'explain', required: false, enum: ['true', 'false'], description: 'Each step with its inputs.', example: 'true' })
  @ApiResponse({ status: 200, type: WhereaboutsAnswer, description: 'The one place.' })
  whereabouts(@Param('id') id: string, @Query() query: AnyQuery): Promise<WhereaboutsAnswer> {
    return this.places.whereabouts(pathId(id), whereaboutsQuestionOf(query));
  }
}
