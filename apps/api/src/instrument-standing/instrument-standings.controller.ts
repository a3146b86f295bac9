import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { momentParameter } from '../qualified/moment-parameter.js';
import { QueryReader, type Query as AnyQuery } from '../trace/trace-question.js';
import { InstrumentDoubtAnswer, InstrumentStandingAnswer } from './instrument-standing.dto.js';
import { InstrumentStandings } from './instrument-standings.service.js';


@ApiTags('questions')
@Controller('api/instruments')
export class InstrumentStandingsController {
  constructor(private readonly standings: InstrumentStandings) {}

  @Get(':id/standing')
  @Allow('questions:ask')
  @ApiOperation({ summary: 'Whether an instrument was good when it was used', description: 'By its calibrations: due day, how it was left, and what a later calibration found before adjusting.' })
  @ApiParam({ name: 'id', description: 'The instrument.', format: 'uuid' })
  @ApiQuery({ name: 'at', description: 'When it was used, with the offset of the place from UTC.', schema: { type: 'string', format: 'date-time', example: '2026-03-02T08:15:00Z' } })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: InstrumentStandingAnswer, description: 'The answer with its reasons.' })
  async at(@Param('id') id: string, @Query() query: AnyQuery): Promise<InstrumentStandingAnswer> {
    const read = new QueryReader(query, ['at', 'asKnownAt']);
    const moment = momentParameter(read);
    const asKnownAt = read.instant('asKnownAt');
    read.settle();
    return this.standings.at(pathId(id), moment, asKnownAt);
  }

  @Get(':id/doubt')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What is in doubt since an instrument was found out of tolerance',
    description: 'Every record measured with it since it was last in tolerance, with the margin to its limit beside the deviation found, and nonconformances to enter.',
  })
  @ApiParam({ name: 'id', description: 'The instrument.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: InstrumentDoubtAnswer, description: 'The spans of doubt.' })
  async doubt(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<InstrumentDoubtAnswer> {
    return this.standings.doubt(pathId(id), knownAtOf(at));
  }
}
