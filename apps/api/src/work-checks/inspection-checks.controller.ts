import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { InspectionCheckAnswer } from './work-check.dto.js';
import { WorkChecks } from './work-checks.service.js';

@ApiTags('questions')
@Controller('api/inspections')
export class InspectionChecksController {
  constructor(private readonly checks: WorkChecks) {}

  @Get(':id/check')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What an inspection rests on',
    description:
      'Whether the inspector was qualified for visual testing that day, scope included, and whether the instrument was good, by the local day of the '
      + 'well. What was measured is held against its instrument alone.',
  })
  @ApiParam({ name: 'id', description: 'The inspection.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: InspectionCheckAnswer, description: 'The check.' })
  async of(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<InspectionCheckAnswer> {
    return this.checks.ofInspection(pathId(id), knownAtOf(at));
  }
}
