import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { DestructiveCoverageAnswer } from './destructive-coverage.dto.js';
import { DestructiveCoverages } from './destructive-coverage.service.js';

@ApiTags('questions')
@Controller('api/casing-strings')
export class DestructiveCoverageController {
  constructor(private readonly coverages: DestructiveCoverages) {}

  @Get(':id/destructive-tests')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What the destructive tests of a string stand for',
    description:
      'Test by test: each sample with the metres it stands for and by which rule, how it stands with its retests, and the metres that no '
      + 'sample stands for. Void tests are shown and count for nothing. Pipe that was cut out is left out.',
  })
  @ApiParam({ name: 'id', description: 'The casing string.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: DestructiveCoverageAnswer, description: 'The samples and the metres.' })
  async of(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<DestructiveCoverageAnswer> {
    return this.coverages.of(pathId(id), knownAtOf(at));
  }
}
