import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { ShiftLogAnswer } from './shift-log.dto.js';
import { ShiftLogs } from './shift-logs.service.js';

@ApiTags('questions')
@Controller('api/shifts')
export class ShiftLogsController {
  constructor(private readonly logs: ShiftLogs) {}

  @Get(':id/log')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'The log of a shift',
    description:
      'Its crew and who of it is named on another shift at the same time, what happened, the stops of the seam weld, the records of work done in its '
      + 'time by kind with those that were entered after its end, what it handed over, how that was accepted, and what is open.',
  })
  @ApiParam({ name: 'id', description: 'The shift.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: ShiftLogAnswer, description: 'The log.' })
  of(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<ShiftLogAnswer> {
    return this.logs.of(pathId(id), knownAtOf(at));
  }
}
