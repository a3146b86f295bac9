import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { LONGEST_PAGE } from '../detections/found-question.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { IndicationStandingAnswer, OpenIndicationsAnswer } from './indication-standing.dto.js';
import { IndicationStandings } from './indication-standings.service.js';
import { openIndicationsQuestionOf } from './open-indications-question.js';
import { OpenIndications } from './open-indications.service.js';

@ApiTags('questions')
@Controller('api')
export class IndicationStandingsController {
  constructor(
    private readonly standings: IndicationStandings,
    private readonly open: OpenIndications,
  ) {}

  @Get('casing-strings/:id/open-indications')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'Indications that nothing settles, with metres and minutes to the hang-off',
    description:
      'Those without an evaluation that settles them, soonest at the hang-off first: each with what is left by the master counter and the line set-up, the readings that the '
      + 'speed rests on and their age, or why it is not known. A record, no interlock.',
  })
  @ApiParam({ name: 'id', description: 'The casing string.', format: 'uuid' })
  @ApiQuery({ name: 'at', required: false, description: 'Time left at this moment; at that of the knowledge when absent.', example: '2026-03-02T08:15:00Z' })
  @ApiQuery({ name: 'limit', required: false, description: 'At most so many.', schema: { type: 'integer', minimum: 1, maximum: LONGEST_PAGE, default: 100, example: 100 } })
  @ApiQuery({ name: 'after', required: false, description: 'The `next` of the page before.', schema: { type: 'string', example: '100' } })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: OpenIndicationsAnswer, description: 'The page.' })
  openOnes(@Param('id') id: string, @Query() query: AnyQuery): Promise<OpenIndicationsAnswer> {
    return this.open.of(pathId(id), openIndicationsQuestionOf(query));
  }

  @Get('indications/:id/standing')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'Where an indication has come to',
    description: 'What was found, every evaluation with what it links and what it rests on (person, level, instrument), why it is open, and what is left to the hang-off.',
  })
  @ApiParam({ name: 'id', description: 'The indication.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: IndicationStandingAnswer, description: 'The indication.' })
  of(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<IndicationStandingAnswer> {
    return this.standings.of(pathId(id), knownAtOf(at));
  }
}
