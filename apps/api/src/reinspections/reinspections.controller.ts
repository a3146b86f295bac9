import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { ReinspectionAnswer, StringRepairsAnswer } from './reinspection.dto.js';
import { Reinspections } from './reinspections.service.js';

@ApiTags('questions')
@Controller('api')
export class ReinspectionsController {
  constructor(private readonly reinspections: Reinspections) {}

  @Get('repairs/:id/re-inspection')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What a repair took from earlier results, and whether it was looked at again',
    description:
      'After a repair an earlier result no longer counts on the repaired footage; it does beside it. Each method used before has to be used again, later and at least as '
      + 'sensitively: by the same reference reflector of the same size or a smaller one, or by the same technique in the same revision where none is stated.',
  })
  @ApiParam({ name: 'id', description: 'The repair.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: ReinspectionAnswer, description: 'What counts no more, what was looked at since, and what is open.' })
  async of(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<ReinspectionAnswer> {
    return this.reinspections.of(pathId(id), knownAtOf(at));
  }

  @Get('casing-strings/:id/repairs')
  @Allow('questions:ask')
  @ApiOperation({ summary: 'The repairs of a string, and what is open after each', description: 'With the footage on which anything is open.' })
  @ApiParam({ name: 'id', description: 'The casing string.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: StringRepairsAnswer, description: 'The repairs.' })
  async ofString(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<StringRepairsAnswer> {
    return this.reinspections.ofString(pathId(id), knownAtOf(at));
  }
}
