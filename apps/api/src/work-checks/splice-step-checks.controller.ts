import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { SpliceStepCheckAnswer } from './work-check.dto.js';
import { WorkChecks } from './work-checks.service.js';

@ApiTags('questions')
@Controller('api/splice-steps')
export class SpliceStepChecksController {
  constructor(private readonly checks: WorkChecks) {}

  @Get(':id/check')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What a step of a splice rests on',
    description:
      'Whether examiners, and who saw the splice, were qualified that day, method and scope included, and whether the instruments were good, by the local day of the '
      + 'well. Whoever is not named stays open.',
  })
  @ApiParam({ name: 'id', description: 'The step.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: SpliceStepCheckAnswer, description: 'The check.' })
  async of(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<SpliceStepCheckAnswer> {
    return this.checks.ofStep(pathId(id), knownAtOf(at));
  }
}
