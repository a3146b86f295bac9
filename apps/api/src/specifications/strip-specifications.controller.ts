import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { isUuid } from '../http/fields.js';
import { malformed } from '../http/problem.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId, recordController } from '../records/record.controller.js';
import { SpecificationDifferenceAnswer, StripSpecificationAnswer, StripSpecificationInput } from './strip-specification.dto.js';
import { StripSpecificationsService } from './strip-specifications.service.js';

const Routes = recordController({
  path: 'strip-specifications', write: 'strip-specification:write', input: StripSpecificationInput, answer: StripSpecificationAnswer,
  filters: [],
});

@ApiTags('strip-specifications')
@Controller('api/strip-specifications')
export class StripSpecificationsController extends Routes {
  constructor(private readonly specifications: StripSpecificationsService) {
    super(specifications);
  }

  @Get(':id/difference')
  @Allow('questions:ask')
  @ApiOperation({ summary: 'How a revision differs from the one before it, or from another one' })
  @ApiParam({ name: 'id', description: 'The later revision.', format: 'uuid' })
  @ApiQuery({ name: 'from', required: false, description: 'The revision to compare with; the one before when absent.', schema: { type: 'string', format: 'uuid' } })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: SpecificationDifferenceAnswer, description: 'What differs.' })
  async difference(@Param('id') id: string, @Query('from') from: unknown, @Query('asKnownAt') at: unknown): Promise<SpecificationDifferenceAnswer> {
    if (from !== undefined && !isUuid(from)) throw malformed([{ field: 'from', value: from, limit: 'a UUID in lower case' }]);
    return this.specifications.difference(pathId(id), from ?? null, knownAtOf(at));
  }
}
