import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { ChannelWatchAnswer } from './channel-watch.dto.js';
import { channelWatchQuestionOf } from './channel-watch-question.js';
import { ChannelWatches } from './channel-watch.service.js';

@ApiTags('questions')
@Controller('api/casing-strings')
export class ChannelWatchController {
  constructor(private readonly watches: ChannelWatches) {}

  @Get(':id/channel-watch')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'Where a channel looks as if it had been blind',
    description:
      'Noise below its usual floor, identical readings, missing samples, a probe lifted over a splice or off the weld line, shares of implausible and '
      + 'saturated samples: each with its footage, run, time, figure and limit. A rule that cannot be applied says so.',
  })
  @ApiParam({ name: 'id', description: 'The casing string.', format: 'uuid' })
  @ApiQuery({ name: 'channelId', description: 'The channel.', schema: { type: 'string', format: 'uuid' } })
  @ApiQuery({ name: 'fromM', required: false, description: 'From this footage on, metres; the beginning when absent.', example: '0' })
  @ApiQuery({ name: 'toM', required: false, description: 'Up to this footage, metres; the end when absent.', example: '212.5' })
  @ApiQuery({ name: 'windowM', required: false, description: 'Windows in which noise and shares are judged, metres; 1 when absent.', example: '1' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: ChannelWatchAnswer, description: 'The findings, and the rules.' })
  of(@Param('id') id: string, @Query() query: AnyQuery): Promise<ChannelWatchAnswer> {
    return this.watches.of(pathId(id), channelWatchQuestionOf(query));
  }
}
