import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { QueryReader, type Query as AnyQuery } from '../trace/trace-question.js';
import { SpliceArrivalsAnswer } from './splice-arrivals.dto.js';
import { SpliceArrivals } from './splice-arrivals.service.js';

@ApiTags('questions')
@Controller('api/casing-strings')
export class SpliceArrivalsController {
  constructor(private readonly arrivals: SpliceArrivals) {}

  @Get(':id/splice-arrivals')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'Where splices are to come, came and were seen',
    description:
      'Each splice, and the end of the coil that was fed last: the gate by the length of its strip, what stations upstream predict, the confirmed place, and '
      + 'each station with the footage at which the splice is to be there and its sightings against the stated distance. Splices are counted at every '
      + 'station and against coils; what is missed, false, doubled or not seen is named.',
  })
  @ApiParam({ name: 'id', description: 'The casing string.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: SpliceArrivalsAnswer, description: 'The splices.' })
  async of(@Param('id') id: string, @Query() query: AnyQuery): Promise<SpliceArrivalsAnswer> {
    const read = new QueryReader(query, ['asKnownAt']);
    const asKnownAt = read.instant('asKnownAt');
    read.settle();
    return this.arrivals.of(pathId(id), asKnownAt);
  }
}
