import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { reconciliationQuestionOf } from './reconciliation-question.js';
import { ReconciliationAnswer } from './reconciliation.dto.js';
import { ReconciliationService } from './reconciliation.service.js';

@ApiTags('questions')
@Controller('api/casing-strings')
export class ReconciliationController {
  constructor(private readonly reconciliations: ReconciliationService) {}

  @Get(':id/reconciliation')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'Strip consumed, pipe made and pipe in place held against one another',
    description:
      'Three sums from independent records, their differences with ± and likely causes; what the shoe ties say about one '
      + 'another; the other counters against the master; coils against splices; footage that nothing covers.',
  })
  @ApiParam({ name: 'id', description: 'The casing string.', format: 'uuid' })
  @ApiQuery({ name: 'at', required: false, description: 'At the last shoe tie by this time; the last one of all when absent.', example: '2026-03-12T16:00:00Z' })
  @KnownAtQuery()
  @ApiQuery({ name: 'explain', required: false, enum: ['true', 'false'], description: 'Each sum with its inputs.', example: 'true' })
  @ApiResponse({ status: 200, type: ReconciliationAnswer, description: 'The sums and the checks.' })
  reconciliation(@Param('id') id: string, @Query() query: AnyQuery): Promise<ReconciliationAnswer> {
    return this.reconciliations.reconciliation(pathId(id), reconciliationQuestionOf(query));
  }
}
