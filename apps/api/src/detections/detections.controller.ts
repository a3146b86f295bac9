import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiQuery, ApiResponse } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { KnownAtQuery } from '../records/known-at.js';
import { pathId, recordController } from '../records/record.controller.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { DetectionAnswer, DetectionInput, FoundPlacesAnswer } from './detection.dto.js';
import { DetectionsService } from './detections.service.js';
import { foundQuestionOf, LONGEST_PAGE } from './found-question.js';

const Routes = recordController({
  path: 'detections', write: 'detection:write', input: DetectionInput, answer: DetectionAnswer, filters: ['stringId', 'ruleId'],
});

@Controller('api/detections')
export class DetectionsController extends Routes {
  constructor(private readonly detections: DetectionsService) {
    super(detections);
  }

  @Get(':id/found')
  @Allow('records:read')
  @ApiOperation({ summary: 'What a detection found', description: 'Every indication as it was found, with what each channel showed, the indication that was opened for it, and those that stood there.' })
  @ApiParam({ name: 'id', description: 'The detection.', format: 'uuid' })
  @ApiQuery({ name: 'limit', required: false, description: 'At most so many.', schema: { type: 'integer', minimum: 1, maximum: LONGEST_PAGE, default: 100, example: 100 } })
  @ApiQuery({ name: 'after', required: false, description: 'The `next` of the page before.', schema: { type: 'string', example: '100' } })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: FoundPlacesAnswer, description: 'The page.' })
  found(@Param('id') id: string, @Query() query: AnyQuery): Promise<FoundPlacesAnswer> {
    return this.detections.found(pathId(id), foundQuestionOf(query));
  }
}
