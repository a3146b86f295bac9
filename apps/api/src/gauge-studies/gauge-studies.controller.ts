import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiResponse } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId, recordController } from '../records/record.controller.js';
import { GaugeResultAnswer, GaugeStudyAnswer, GaugeStudyInput } from './gauge-study.dto.js';
import { GaugeStudiesService } from './gauge-studies.service.js';

const Routes = recordController({
  path: 'gauge-studies', write: 'gauge-study:write', input: GaugeStudyInput, answer: GaugeStudyAnswer, filters: ['instrumentId'],
});

@Controller('api/gauge-studies')
export class GaugeStudiesController extends Routes {
  constructor(private readonly studies: GaugeStudiesService) {
    super(studies);
  }

  @Get(':id/result')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'How much of the spread of readings is the gauge',
    description: 'Repeatability, reproducibility and part variation by analysis of variance, and by averages and ranges beside it.',
  })
  @ApiParam({ name: 'id', description: 'The study.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: GaugeResultAnswer, description: 'The result.' })
  async result(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<GaugeResultAnswer> {
    return this.studies.result(pathId(id), knownAtOf(at));
  }
}
