import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { RepairCheckAnswer } from './work-check.dto.js';
import { WorkChecks } from './work-checks.service.js';

@ApiTags('questions')
@Controller('api/repairs')
export class RepairChecksController {
  constructor(private readonly checks: WorkChecks) {}

  @Get(':id/check')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What a repair rests on',
    description: 'Whether who welded it was qualified that day, what of the procedure is open, and whether the instruments were good, by the local day of the well.',
  })
  @ApiParam({ name: 'id', description: 'The repair.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: RepairCheckAnswer, description: 'The check.' })
  async of(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<RepairCheckAnswer> {
    return this.checks.ofRepair(pathId(id), knownAtOf(at));
  }
}
