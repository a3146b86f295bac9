import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { ApiBody, ApiOperation, ApiParam, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { Write, type WriteRequest } from '../records/write-request.js';
import { SpliceEntryAnswer, SpliceEntryInput } from './splice-entry.dto.js';
import { SpliceEntry } from './splice-entry.service.js';
import { SpliceRecordAnswer } from './splice-record.dto.js';
import { SpliceRecords } from './splice-records.service.js';

@ApiTags('questions')
@Controller('api/splices')
export class SpliceRecordsController {
  constructor(
    private readonly records: SpliceRecords,
    private readonly entry: SpliceEntry,
  ) {}

  @Post('whole')
  @Allow('splice:write')
  @ApiOperation({ summary: 'Enter a splice with its welds and steps', description: 'All of it is entered, or nothing. A repeat with the same ids has the effect of one.' })
  @ApiBody({ type: SpliceEntryInput })
  @ApiResponse({ status: 201, type: SpliceEntryAnswer, description: 'The parts as they were taken.' })
  async enter(@Body() body: unknown, @Write() request: WriteRequest): Promise<SpliceEntryAnswer> {
    return this.entry.enter(body, request);
  }

  @Get(':id/record')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'All that is on record of a splice',
    description: 'Its coils and geometry, where it meets the seam, its stages from the prepared ends to the last station, its welds, and what is open.',
  })
  @ApiParam({ name: 'id', description: 'The splice.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: SpliceRecordAnswer, description: 'The record.' })
  async of(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<SpliceRecordAnswer> {
    return this.records.of(pathId(id), knownAtOf(at));
  }
}
