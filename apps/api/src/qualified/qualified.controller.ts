import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { KnownAtQuery } from '../records/known-at.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { QualifiedAnswer } from './qualified.dto.js';
import { LONGEST_METHOD, LONGEST_VARIABLES, qualifiedQuestionOf } from './qualified-question.js';
import { QualifiedPeople } from './qualified.service.js';

@ApiTags('questions')
@Controller('api/people')
export class QualifiedController {
  constructor(private readonly qualified: QualifiedPeople) {}

  @Get(':id/qualified')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'Whether a person was qualified for a piece of work when it was done',
    description:
      'By the local day of the work: qualifications with their confirmations, authorisations, vision tests and withdrawals, method, level and '
      + 'every variable that the scope limits. What the work does not state is never taken to be in scope.',
  })
  @ApiParam({ name: 'id', description: 'The person.', format: 'uuid' })
  @ApiQuery({ name: 'at', description: 'When the work was done, with the offset of its place from UTC.', schema: { type: 'string', format: 'date-time', example: '2026-03-02T08:15:00Z' } })
  @ApiQuery({ name: 'method', required: false, description: 'The process (ISO 4063) or method.', schema: { type: 'string', minLength: 1, maxLength: LONGEST_METHOD, example: '521' } })
  @ApiQuery({ name: 'level', required: false, description: 'The least level that the work asks for.', schema: { type: 'string', pattern: '^[1-5]$', example: '2' } })
  @ApiQuery({ name: 'variables', required: false, description: 'What the work was: thickness=6.00 mm; product=strip.', schema: { type: 'string', minLength: 1, maxLength: LONGEST_VARIABLES, example: 'thickness=5.00 mm; product=strip' } })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: QualifiedAnswer, description: 'The answer, with every qualification of the person.' })
  async of(@Param('id') id: string, @Query() query: AnyQuery): Promise<QualifiedAnswer> {
    return this.qualified.of(id, qualifiedQuestionOf(query));
  }
}
