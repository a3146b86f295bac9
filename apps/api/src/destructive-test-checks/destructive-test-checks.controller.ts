import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { DestructiveTestChecksAnswer } from './destructive-test-check.dto.js';
import { DestructiveTestChecks } from './destructive-test-checks.service.js';

@ApiTags('questions')
@Controller('api/destructive-tests')
export class DestructiveTestChecksController {
  constructor(private readonly checks: DestructiveTestChecks) {}

  @Get(':id/checks')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'A destructive test beside what is demanded of it',
    description:
      'Every check of how it was made and what it came to, with what was found, what is demanded and by which source; the strains it reached; and a '
      + 'flaring beside the expansion of the fold. What is missing for a check is told as not computable, with the reason.',
  })
  @ApiParam({ name: 'id', description: 'The test.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: DestructiveTestChecksAnswer, description: 'The checks.' })
  async of(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<DestructiveTestChecksAnswer> {
    return this.checks.of(pathId(id), knownAtOf(at));
  }
}
