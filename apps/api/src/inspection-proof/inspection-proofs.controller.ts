import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { inspectionProofQuestionOf } from './inspection-proof-question.js';
import { InspectionProofAnswer } from './inspection-proof.dto.js';
import { InspectionProofs } from './inspection-proofs.service.js';

@ApiTags('questions')
@Controller('api/casing-strings')
export class InspectionProofsController {
  constructor(private readonly proofs: InspectionProofs) {}

  @Get(':id/inspection-proof')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What the reference checks prove of the inspected pipe',
    description:
      'Channel by channel the metres that are confirmed, provisional, suspect and missing, with the looks and the checks that say so; occasions at which no check was made in '
      + 'time; and for every failed check the pipe that it makes suspect, with nonconformances to enter.',
  })
  @ApiParam({ name: 'id', description: 'The casing string.', format: 'uuid' })
  @ApiQuery({ name: 'channelId', required: false, description: 'One channel; all required ones when absent.', schema: { type: 'string', format: 'uuid' } })
  @ApiQuery({ name: 'fromMm', required: false, description: 'Footage from which on, whole mm.', example: '212000' })
  @ApiQuery({ name: 'toMm', required: false, description: 'Footage up to which, whole mm; not part of it.', example: '236000' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: InspectionProofAnswer, description: 'The metres, the looks, and what was not done.' })
  of(@Param('id') id: string, @Query() query: AnyQuery): Promise<InspectionProofAnswer> {
    return this.proofs.of(pathId(id), inspectionProofQuestionOf(query));
  }
}
