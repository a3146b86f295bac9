import { Controller, Get, Header, Param, Query, Req, StreamableFile } from '@nestjs/common';
import { ApiHeader, ApiOperation, ApiParam, ApiProduces, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import type { FastifyRequest } from 'fastify';
import { Allow } from '../access/allow.decorator.js';
import { StandingAccess } from '../access/standing-access.js';
import { LONGEST_PAGE } from '../detections/found-question.js';
import { KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { EVENT_STREAM } from './event-stream.js';
import { HoldClockAnswer } from './hold-clock.dto.js';
import { holdClockQuestionOf } from './hold-clock-question.js';
import { HoldClocks } from './hold-clocks.service.js';
import { LiveClocks } from './live-clocks.service.js';

const STRING = { name: 'id', description: 'The casing string.', format: 'uuid' };

@ApiTags('questions')
@Controller('api/casing-strings')
export class HoldClockController {
  constructor(
    private readonly clocks: HoldClocks,
    private readonly live: LiveClocks,
    private readonly access: StandingAccess,
  ) {}

  @Get(':id/hold-clock')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What is open on a string, where it is, and how long it has to each later station and to the hang-off',
    description:
      'Soonest at the hang-off first: metres by the master counter and the line set-up, minutes at the recent speeds with their spread, and what is still feasible where it is. '
      + 'Says plainly when counter data are stale. A record, no interlock.',
  })
  @ApiParam(STRING)
  @ApiQuery({ name: 'at', required: false, description: 'Told for this moment; for that of the knowledge when absent.', example: '2026-03-02T08:15:00Z' })
  @ApiQuery({ name: 'limit', required: false, description: 'At most so many.', schema: { type: 'integer', minimum: 1, maximum: LONGEST_PAGE, default: 100, example: 100 } })
  @ApiQuery({ name: 'after', required: false, description: 'The `next` of the page before.', schema: { type: 'string', example: '100' } })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: HoldClockAnswer, description: 'The page.' })
  of(@Param('id') id: string, @Query() query: AnyQuery): Promise<HoldClockAnswer> {
    return this.clocks.of(pathId(id), holdClockQuestionOf(query));
  }

  @Get(':id/hold-clock/live')
  @Allow('questions:ask')
  @Header('cache-control', 'no-store')
  @Header('x-accel-buffering', 'no')
  @ApiOperation({
    summary: 'The hold clock as it goes on, as server-sent events',
    description:
      'Events by the HTML Living Standard. `clock`: the answer of hold-clock with the twenty that are soonest, at once when connected, within a second of a reading or of any other '
      + 'record of the string, and every 15 s. `stale` before it while counter data are stale. `unavailable`: it could not be worked out just now. `ended`: why it ends, such as the '
      + 'end of the session. Every `clock` is the whole state, so that a client that connects again has missed nothing; one that reads slowly gets the latest alone.',
  })
  @ApiParam(STRING)
  @ApiHeader({ name: 'Last-Event-ID', required: false, description: 'The `id` of the last event, as a client that connects again sends it; the whole state comes first in any case.', schema: { type: 'string', example: '2026-03-02T08:15:00.000000Z' } })
  @ApiProduces(EVENT_STREAM)
  @ApiResponse({ status: 200, description: 'The events.', content: { [EVENT_STREAM]: { schema: { type: 'string' } } } })
  async events(@Param('id') id: string, @Req() request: FastifyRequest): Promise<StreamableFile> {
    const events = await this.live.open(pathId(id), this.access.tokenOf(request));
    // Who asks for the head alone reads no events, and would never be seen to leave.
    if (request.method === 'HEAD') events.destroy();
    return new StreamableFile(events, { type: `${EVENT_STREAM}; charset=utf-8` });
  }
}
