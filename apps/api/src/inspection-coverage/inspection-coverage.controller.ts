import { applyDecorators, Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { coverageQuestionOf } from './coverage-question.js';
import { InspectionCoverageAnswer, SpliceCoverageAnswer } from './inspection-coverage.dto.js';
import { InspectionCoverages } from './inspection-coverage.service.js';

const Asked = (): MethodDecorator => applyDecorators(
  ApiParam({ name: 'id', description: 'The casing string.', format: 'uuid' }),
  ApiQuery({ name: 'channelId', required: false, description: 'One channel; all that are required when absent.', schema: { type: 'string', format: 'uuid' } }),
  KnownAtQuery(),
);

@ApiTags('questions')
@Controller('api/casing-strings')
export class InspectionCoverageController {
  constructor(private readonly coverages: InspectionCoverages) {}

  @Get(':id/inspection-coverage')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What of the pipe each channel inspected',
    description: 'Channel by channel: pipe that it had to inspect (made, past its station, not cut out), what of it it inspected validly, every gap to the millimetre, and what has not come to the station yet.',
  })
  @Asked()
  @ApiResponse({ status: 200, type: InspectionCoverageAnswer, description: 'The channels.' })
  ofPipe(@Param('id') id: string, @Query() query: AnyQuery): Promise<InspectionCoverageAnswer> {
    return this.coverages.ofPipe(pathId(id), coverageQuestionOf(query));
  }

  @Get(':id/splice-coverage')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'Whether every splice and re-join was inspected',
    description: 'Splices and re-joins with the margin that each channel asks for: covered by the channel, covered by hand with the examinations that say so, or missing, with the footage that nothing covers.',
  })
  @Asked()
  @ApiResponse({ status: 200, type: SpliceCoverageAnswer, description: 'The splices and re-joins.' })
  ofJoints(@Param('id') id: string, @Query() query: AnyQuery): Promise<SpliceCoverageAnswer> {
    return this.coverages.ofJoints(pathId(id), coverageQuestionOf(query));
  }
}
