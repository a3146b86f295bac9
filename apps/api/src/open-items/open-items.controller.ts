import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { OpenItemsAnswer } from './open-items.dto.js';
import { OpenItems } from './open-items.service.js';

@ApiTags('questions')
@Controller('api/casing-strings')
export class OpenItemsController {
  constructor(private readonly items: OpenItems) {}

  @Get(':id/open-items')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What is not settled on a string',
    description:
      'What a shift lead has to hand over: stops that did not end, splices without a good verdict or a confirmed place, their steps that were held or rejected, '
      + 'welds outside their procedure, re-joins without a good verdict, repairs '
      + 'after which something is open, examinations that were held or rejected, indications that nobody evaluated or that are not settled, inspections that were rejected or wait for evaluation, '
      + 'destructive tests that failed or wait for retests, nonconformances that are not closed, and items of handovers that nobody took over or that are not settled.',
  })
  @ApiParam({ name: 'id', description: 'The casing string.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: OpenItemsAnswer, description: 'The open items.' })
  of(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<OpenItemsAnswer> {
    return this.items.of(pathId(id), knownAtOf(at));
  }
}
