import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { DetectionDifferenceAnswer } from './detection-difference.dto.js';
import { DetectionDifferences } from './detection-differences.service.js';
import { differenceQuestionOf, MOST_PLACES } from './difference-question.js';

const uuid = { type: 'string', format: 'uuid' } as const;

@ApiTags('questions')
@Controller('api/casing-strings')
export class DetectionDifferencesController {
  constructor(private readonly differences: DetectionDifferences) {}

  @Get(':id/detection-difference')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What another threshold, or another detection, makes of the samples',
    description:
      'Place by place what appeared, vanished, grew, shrank or shifted, and what of it was evaluated. Either a trial of other levels of a rule (`ruleId` with `threshold`, '
      + '`release` or both, for one channel or all), which writes nothing; or two detections (`before`, `after`).',
  })
  @ApiParam({ name: 'id', description: 'The casing string.', format: 'uuid' })
  @ApiQuery({ name: 'before', required: false, description: 'The former detection.', schema: uuid })
  @ApiQuery({ name: 'after', required: false, description: 'The latter detection.', schema: uuid })
  @ApiQuery({ name: 'ruleId', required: false, description: 'The rule whose levels are tried.', schema: uuid })
  @ApiQuery({ name: 'channelId', required: false, description: 'The channel whose levels are tried; all of the rule when absent.', schema: uuid })
  @ApiQuery({ name: 'threshold', required: false, description: 'The threshold that is tried.', schema: { type: 'string', example: '40' } })
  @ApiQuery({ name: 'release', required: false, description: 'The release level that is tried.', schema: { type: 'string', example: '30' } })
  @ApiQuery({ name: 'fromM', required: false, description: 'A trial from this footage on, metres.', schema: { type: 'string', example: '200.0' } })
  @ApiQuery({ name: 'toM', required: false, description: 'A trial up to this footage, metres.', schema: { type: 'string', example: '214.0' } })
  @ApiQuery({ name: 'limit', required: false, description: 'At most so many places.', schema: { type: 'integer', minimum: 1, maximum: MOST_PLACES, default: 200, example: 200 } })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: DetectionDifferenceAnswer, description: 'The difference.' })
  of(@Param('id') id: string, @Query() query: AnyQuery): Promise<DetectionDifferenceAnswer> {
    return this.differences.of(pathId(id), differenceQuestionOf(query));
  }
}
