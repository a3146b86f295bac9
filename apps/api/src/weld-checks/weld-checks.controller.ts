import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { WeldCheckAnswer } from './weld-check.dto.js';
import { WeldChecks } from './weld-checks.service.js';

@ApiTags('questions')
@Controller('api/welds')
export class WeldChecksController {
  constructor(private readonly checks: WeldChecks) {}

  @Get(':id/check')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What a weld rests on',
    description:
      'Each value beside the range of its procedure, heat input by each method, whether the welder was qualified for it that day and whether the '
      + 'instruments were good that day, by the local day of its well.',
  })
  @ApiParam({ name: 'id', description: 'The weld.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: WeldCheckAnswer, description: 'The check.' })
  async of(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<WeldCheckAnswer> {
    return this.checks.of(pathId(id), knownAtOf(at));
  }
}
