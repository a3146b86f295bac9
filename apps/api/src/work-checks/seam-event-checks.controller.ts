import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { SeamEventCheckAnswer } from './work-check.dto.js';
import { WorkChecks } from './work-checks.service.js';

@ApiTags('questions')
@Controller('api/seam-events')
export class SeamEventChecksController {
  constructor(private readonly checks: WorkChecks) {}

  @Get(':id/check')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What a seam event rests on',
    description:
      'Whether the operator was qualified for the process that day, whether the instruments were good, and what of the procedure is open, by the local '
      + 'day of the well.',
  })
  @ApiParam({ name: 'id', description: 'The event.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: SeamEventCheckAnswer, description: 'The check.' })
  async of(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<SeamEventCheckAnswer> {
    return this.checks.ofSeamEvent(pathId(id), knownAtOf(at));
  }
}
