import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { Caller, type Principal } from '../access/principal.js';
import { KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { changesQuestionOf } from './changes-question.js';
import { ChangesSinceAnswer } from './changes-since.dto.js';
import { ChangesSince } from './changes-since.service.js';

@ApiTags('questions')
@Controller('api/casing-strings')
export class ChangesSinceController {
  constructor(private readonly changes: ChangesSince) {}

  @Get(':id/changes')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What changed on a string since my last shift',
    description:
      'Every version of every record of the string, and of its nonconformances, that became known since: what happened, why, by whom, what changed, and whether it '
      + 'was entered late. Without `since`: since the end of your own last shift on this string. Positions that were derived again are counted, and listed when asked for.',
  })
  @ApiParam({ name: 'id', description: 'The casing string.', format: 'uuid' })
  @ApiQuery({ name: 'since', required: false, description: 'Since this instant; since the end of your own last shift when absent.', example: '2026-03-02T17:00:00Z' })
  @ApiQuery({ name: 'limit', required: false, description: 'At most so many.', schema: { type: 'integer', minimum: 1, maximum: 500, default: 100, example: 100 } })
  @ApiQuery({ name: 'after', required: false, description: 'The `next` of the page before.' })
  @ApiQuery({ name: 'derivedAgain', required: false, description: 'Whether versions that no person wrote are listed too.', schema: { type: 'string', enum: ['counted', 'listed'], example: 'counted' } })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: ChangesSinceAnswer, description: 'What became known.' })
  of(@Param('id') id: string, @Query() query: AnyQuery, @Caller() caller: Principal): Promise<ChangesSinceAnswer> {
    return this.changes.of(pathId(id), changesQuestionOf(query), caller.personId);
  }
}
