import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { ExaminationCheckAnswer } from './work-check.dto.js';
import { WorkChecks } from './work-checks.service.js';

@ApiTags('questions')
@Controller('api/examinations')
export class ExaminationChecksController {
  constructor(private readonly checks: WorkChecks) {}

  @Get(':id/check')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What an examination rests on',
    description: 'Whether the examiner was qualified for the method that day, technique and scope included, and whether the instrument was good, by the local day of the well.',
  })
  @ApiParam({ name: 'id', description: 'The examination.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: ExaminationCheckAnswer, description: 'The check.' })
  async of(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<ExaminationCheckAnswer> {
    return this.checks.ofExamination(pathId(id), knownAtOf(at));
  }
}
