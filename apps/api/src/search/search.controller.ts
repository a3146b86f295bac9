import { Controller, Get, Query } from '@nestjs/common';
import { ApiOperation, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { isPrintable } from '../http/fields.js';
import { malformed } from '../http/problem.js';
import { SearchAnswer } from './search.dto.js';
import { SearchService } from './search.service.js';

/** A part of a number shorter than this says nothing. */
const SHORTEST = 2;
const LONGEST = 60;
const PAGE = 20;
const MOST = 50;

@ApiTags('questions')
@Controller('api/search')
export class SearchController {
  constructor(private readonly search: SearchService) {}

  @Get()
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'Coils, heats, certificates and orders by part of their number',
    description: 'Typing slips are tolerated: what only looks like the text comes last and is marked so.',
  })
  @ApiQuery({ name: 'text', description: 'Part of a number.', schema: { type: 'string', minLength: SHORTEST, maxLength: LONGEST, example: '0711' } })
  @ApiQuery({ name: 'limit', required: false, description: 'At most so many.', schema: { type: 'integer', minimum: 1, maximum: MOST, default: PAGE, example: PAGE } })
  @ApiResponse({ status: 200, type: SearchAnswer, description: 'What was found.' })
  async find(@Query('text') text: unknown, @Query('limit') limit: unknown): Promise<SearchAnswer> {
    if (!isPrintable(text, SHORTEST, LONGEST)) {
      throw malformed([{ field: 'text', value: text, limit: `${SHORTEST} to ${LONGEST} printable characters of a number` }]);
    }
    const size = limit === undefined ? PAGE : typeof limit === 'string' && /^\d{1,2}$/.test(limit) ? Number(limit) : 0;
    if (size < 1 || size > MOST) throw malformed([{ field: 'limit', value: limit, limit: `1 to ${MOST}` }]);
    return this.search.find(text.trim(), size);
  }
}
