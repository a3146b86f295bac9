import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { RejoinRecordAnswer } from './rejoin-record.dto.js';
import { RejoinRecords } from './rejoin-records.service.js';

@ApiTags('questions')
@Controller('api/rejoins')
export class RejoinRecordsController {
  constructor(private readonly records: RejoinRecords) {}

  @Get(':id/record')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'All that is on record of a re-join',
    description: 'Its cut-out, its welds, how it was examined, its repairs, and what is open: a verdict with nothing behind it as well.',
  })
  @ApiParam({ name: 'id', description: 'The re-join.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: RejoinRecordAnswer, description: 'The record.' })
  async of(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<RejoinRecordAnswer> {
    return this.records.of(pathId(id), knownAtOf(at));
  }
}
