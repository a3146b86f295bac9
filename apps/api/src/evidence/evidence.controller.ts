import { applyDecorators, Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { EVIDENCE_AXES, evidenceQuestionOf } from './evidence-question.js';
import { EvidenceAnswer } from './evidence.dto.js';
import { Evidences } from './evidences.service.js';

const Asked = (): MethodDecorator => applyDecorators(
  ApiParam({ name: 'id', description: 'The casing string.', format: 'uuid' }),
  ApiQuery({ name: 'by', required: false, enum: EVIDENCE_AXES, description: 'What fromM and toM are: footage, or measured depth, which means pipe of both walls; footage when absent.', example: 'footage' }),
  ApiQuery({ name: 'fromM', required: false, description: 'Where the interval begins, metres.', schema: { type: 'string', example: '0' } }),
  ApiQuery({ name: 'toM', required: false, description: 'Where it ends, metres.', schema: { type: 'string', example: '500' } }),
  KnownAtQuery(),
);

@ApiTags('questions')
@Controller('api/casing-strings')
export class EvidenceController {
  constructor(private readonly evidences: Evidences) {}

  @Get(':id/evidence')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What stands as evidence for every metre, against the control plan',
    description: 'Metre by metre what each item of the control plan comes to, and the worst of them, down to the records that say so; by footage, and by depth of both walls. Worked out from the records, never entered.',
  })
  @Asked()
  @ApiResponse({ status: 200, type: EvidenceAnswer, description: 'The evidence.' })
  of(@Param('id') id: string, @Query() query: AnyQuery): Promise<EvidenceAnswer> {
    return this.evidences.of(pathId(id), evidenceQuestionOf(query));
  }
}
