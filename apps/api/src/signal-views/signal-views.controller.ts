import { Readable } from 'node:stream';
import { Controller, Get, Param, Query, Res, StreamableFile } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiProduces, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow } from '../access/allow.decorator.js';
import { KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { PAPERS } from '../reports/report-question.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { AXES, samplesQuestionOf, signalViewQuestionOf, stripChartQuestionOf } from './signal-view-question.js';
import { SampleExports } from './sample-exports.service.js';
import { SignalViewAnswer } from './signal-view.dto.js';
import { SignalViews } from './signal-views.service.js';
import { StripCharts } from './strip-charts.service.js';

const STRING = { name: 'id', description: 'The casing string.', format: 'uuid' };
const AXIS = [
  ApiQuery({ name: 'by', required: false, enum: AXES, description: 'What the pipe is laid out by; footage when absent.', example: 'footage' }),
  ApiQuery({ name: 'fromM', required: true, description: 'Where the interval begins, metres.', schema: { type: 'string', example: '0' } }),
  ApiQuery({ name: 'toM', required: true, description: 'Where it ends, metres.', schema: { type: 'string', example: '10' } }),
  ApiQuery({ name: 'shoeMdM', required: false, description: 'Depth of the shoe, for the inner wall; the last known one when absent.', schema: { type: 'string', example: '512.5' } }),
  ApiQuery({ name: 'at', required: false, description: 'The time whose inner wall is meant.', schema: { type: 'string', example: '2026-03-02T12:00:00Z' } }),
];
const axis = (target: object, key: string | symbol, descriptor: PropertyDescriptor): void => {
  for (const decorate of AXIS) decorate(target, key, descriptor);
};
const CHANNELS = ApiQuery({ name: 'channelIds', required: false, description: 'Ids of channels with commas between; all of the string when absent.', schema: { type: 'string', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b60' } });
const SVG = 'image/svg+xml';
const PDF = 'application/pdf';
const ARROW = 'application/vnd.apache.arrow.stream';
const CSV = 'text/csv';
const UNPLACED = 'x-unplaced-samples';

@ApiTags('signals')
@Controller('api/casing-strings')
export class SignalViewsController {
  constructor(
    private readonly views: SignalViews,
    private readonly charts: StripCharts,
    private readonly exports: SampleExports,
  ) {}

  @Get(':id/signal-view')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'A channel along the pipe, in columns',
    description: 'Least, greatest and mean of each column, gaps as gaps, with splices, checks, marks and stops. What it costs goes by the width, not by how much pipe there is.',
  })
  @ApiParam(STRING)
  @ApiQuery({ name: 'channelId', required: true, description: 'The channel.', schema: { type: 'string', format: 'uuid', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b60' } })
  @axis
  @ApiQuery({ name: 'widthPx', required: false, description: 'How many columns, 1 to 4000; 1200 when absent.', schema: { type: 'string', example: '1200' } })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: SignalViewAnswer, description: 'The view.' })
  view(@Param('id') id: string, @Query() query: AnyQuery): Promise<SignalViewAnswer> {
    return this.views.of(pathId(id), signalViewQuestionOf(query));
  }

  @Get(':id/samples')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'The samples of a channel on a stretch of footage, as a file',
    description: 'As they were read, bit for bit, with their footage and what each is worth: nothing read is empty, and what a device sends instead has a column of its own.',
  })
  @ApiParam(STRING)
  @ApiQuery({ name: 'channelId', required: true, description: 'The channel.', schema: { type: 'string', format: 'uuid', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b60' } })
  @ApiQuery({ name: 'fromM', required: true, description: 'Where the interval begins, metres of footage.', schema: { type: 'string', example: '0' } })
  @ApiQuery({ name: 'toM', required: true, description: 'Where it ends, metres.', schema: { type: 'string', example: '10' } })
  @ApiQuery({ name: 'format', required: false, enum: ['arrow', 'csv'], description: 'An Arrow stream, or CSV; Arrow when absent.', example: 'csv' })
  @KnownAtQuery()
  @ApiProduces(ARROW, CSV)
  @ApiResponse({ status: 200, description: 'The samples.', headers: { [UNPLACED]: { description: 'About how many samples of the channel have no footage, anywhere, and are in no such file.', schema: { type: 'integer', example: 0 } } }, content: { [ARROW]: { schema: { type: 'string', format: 'binary' } }, [CSV]: { schema: { type: 'string', format: 'binary' } } } })
  async samples(@Param('id') id: string, @Query() query: AnyQuery, @Res({ passthrough: true }) reply: FastifyReply): Promise<StreamableFile> {
    const { bytes, type, fileName, unplacedSamples } = await this.exports.of(pathId(id), samplesQuestionOf(query));
    void reply.header('cache-control', 'private, no-store').header(UNPLACED, String(unplacedSamples));
    return new StreamableFile(Readable.from(bytes), { type, disposition: `attachment; filename="${fileName}"` });
  }

  @Get(':id/strip-chart.svg')
  @Allow('questions:ask')
  @ApiOperation({ summary: 'A strip chart of channels along the pipe, as SVG' })
  @ApiParam(STRING)
  @CHANNELS
  @axis
  @KnownAtQuery()
  @ApiQuery({ name: 'paper', required: false, enum: PAPERS, description: 'For the PDF alone.', example: 'A4' })
  @ApiProduces(SVG)
  @ApiResponse({ status: 200, description: 'The chart.', content: { [SVG]: { schema: { type: 'string', format: 'binary' } } } })
  async svg(@Param('id') id: string, @Query() query: AnyQuery, @Res({ passthrough: true }) reply: FastifyReply): Promise<StreamableFile> {
    return sent(reply, Buffer.from(await this.charts.svg(pathId(id), stripChartQuestionOf(query))), SVG, 'strip-chart.svg');
  }

  @Get(':id/strip-chart.pdf')
  @Allow('questions:ask')
  @ApiOperation({ summary: 'A strip chart of channels along the pipe, as a PDF' })
  @ApiParam(STRING)
  @CHANNELS
  @axis
  @KnownAtQuery()
  @ApiQuery({ name: 'paper', required: false, enum: PAPERS, description: 'The paper, laid across; A4 when absent.', example: 'A4' })
  @ApiProduces(PDF)
  @ApiResponse({ status: 200, description: 'The chart.', content: { [PDF]: { schema: { type: 'string', format: 'binary' } } } })
  async pdf(@Param('id') id: string, @Query() query: AnyQuery, @Res({ passthrough: true }) reply: FastifyReply): Promise<StreamableFile> {
    return sent(reply, await this.charts.pdf(pathId(id), stripChartQuestionOf(query)), PDF, 'strip-chart.pdf');
  }
}

function sent(reply: FastifyReply, bytes: Uint8Array, type: string, fileName: string): StreamableFile {
  void reply.header('cache-control', 'private, no-store');
  return new StreamableFile(bytes, { type, disposition: `inline; filename="${fileName}"`, length: bytes.length });
}
