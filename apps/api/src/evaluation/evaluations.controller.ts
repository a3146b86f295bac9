import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { isUuid } from '../http/fields.js';
import { malformed } from '../http/problem.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { CoilEvaluationAnswer } from './evaluation.dto.js';
import { evaluationAnswer } from './evaluation-answer.js';
import { Evaluations } from './evaluations.service.js';

@ApiTags('questions')
@Controller('api/coils')
export class EvaluationsController {
  constructor(private readonly evaluations: Evaluations) {}

  @Get(':id/evaluation')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'A coil against its specification',
    description:
      'Every value beside its limit with margin, rule and source, against the revision the coil was ordered to; what does not fit '
      + 'together among its papers, tag and figures; where it stands, and what can be decided.',
  })
  @ApiParam({ name: 'id', description: 'The coil.', format: 'uuid' })
  @ApiQuery({ name: 'specificationId', required: false, description: 'Another revision to hold it against as well.', schema: { type: 'string', format: 'uuid' } })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: CoilEvaluationAnswer, description: 'The evaluation.' })
  async ofCoil(@Param('id') id: string, @Query('specificationId') specificationId: unknown, @Query('asKnownAt') at: unknown): Promise<CoilEvaluationAnswer> {
    if (specificationId !== undefined && !isUuid(specificationId)) {
      throw malformed([{ field: 'specificationId', value: specificationId, limit: 'a UUID in lower case' }]);
    }
    const asKnownAt = knownAtOf(at);
    return evaluationAnswer(await this.evaluations.ofCoil(pathId(id), specificationId ?? null, asKnownAt), asKnownAt);
  }
}
