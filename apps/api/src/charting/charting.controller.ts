import { Readable } from 'node:stream';
import { Controller, Get, Param, Query, Res, StreamableFile } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiProduces, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow } from '../access/allow.decorator.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { PAPERS } from '../reports/report-question.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { Capabilities } from './capabilities.service.js';
import { CapabilityAnswer } from './capability.dto.js';
import { CHARTED_BY, chartQuestionOf, trialQuestionOf } from './chart-question.js';
import { ControlChartViewAnswer } from './control-chart-view.dto.js';
import { ControlChartAnswers } from './control-charts-answers.service.js';
import { StringSignalsAnswer } from './string-signals.dto.js';
import { StringSignals } from './string-signals.service.js';
import { TrialLimitsAnswer } from './trial-limits.dto.js';
import { TrialLimits } from './trial-limits.service.js';

const CHART = { name: 'id', description: 'The control chart.', format: 'uuid' };
const text = (example: string): { schema: { type: string; example: string } } => ({ schema: { type: 'string', example } });
const REMOVALS = [
  ApiQuery({ name: 'removeM', required: false, description: 'Trial limits: without the points that meet this footage, metres, as intervals with commas between.', ...text('12.0-15.5') }),
  ApiQuery({ name: 'removeLabels', required: false, description: 'Trial limits: without these points that have no place, by their labels.', ...text('LM-03') }),
];
const PIPE = [
  ApiQuery({ name: 'by', required: false, enum: CHARTED_BY, description: 'What the pipe is asked by; footage when absent.', example: 'footage' }),
  ApiQuery({ name: 'fromM', required: false, description: 'By footage, or by depth on a wall: where it begins, metres.', ...text('0') }),
  ApiQuery({ name: 'toM', required: false, description: 'Where it ends; not part of it.', ...text('60') }),
  ApiQuery({ name: 'shoeMdM', required: false, description: 'Of the inner wall: the depth of the shoe.', ...text('512.5') }),
  ApiQuery({ name: 'at', required: false, description: 'Of the inner wall: the time that is meant.', ...text('2026-03-02T12:00:00Z') }),
  ApiQuery({ name: 'coilId', required: false, description: 'By coil: which.', schema: { type: 'string', format: 'uuid', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b05' } }),
  ApiQuery({ name: 'fromTime', required: false, description: 'By time: pipe welded from then on.', ...text('2026-03-02T06:00:00Z') }),
  ApiQuery({ name: 'toTime', required: false, description: 'Until then.', ...text('2026-03-02T18:00:00Z') }),
  ApiQuery({ name: 'limits', required: false, description: 'The id of limits; `trial`: limits from this very pipe; `in-force`, as when absent: those that hold where the pipe lies.', ...text('in-force') }),
  ...REMOVALS, KnownAtQuery(),
  ApiQuery({ name: 'paper', required: false, enum: PAPERS, description: 'For the PDF alone.', example: 'A4' }),
];
const all = (decorators: readonly MethodDecorator[]) => (target: object, key: string | symbol, descriptor: PropertyDescriptor): void => {
  for (const decorate of decorators) decorate(target, key, descriptor);
};
const SVG = 'image/svg+xml';
const PDF = 'application/pdf';
const CSV = 'text/csv';
const binary = (type: string): Record<string, { schema: { type: string; format: string } }> => ({ [type]: { schema: { type: 'string', format: 'binary' } } });

@ApiTags('control charts')
@Controller('api')
export class ChartingController {
  constructor(
    private readonly answers: ControlChartAnswers,
    private readonly trials: TrialLimits,
    private readonly capabilities: Capabilities,
    private readonly signals: StringSignals,
  ) {}

  @Get('control-charts/:id/chart')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'The chart of a characteristic over some pipe, against limits',
    description: 'Points, limits, signals with what they ask for, correlation and warnings, and all readings and figures that it takes to compute it again.',
  })
  @ApiParam(CHART)
  @all(PIPE)
  @ApiResponse({ status: 200, type: ControlChartViewAnswer, description: 'The chart.' })
  chart(@Param('id') id: string, @Query() query: AnyQuery): Promise<ControlChartViewAnswer> {
    return this.answers.of(pathId(id), chartQuestionOf(query));
  }

  @Get('control-charts/:id/chart.csv')
  @Allow('questions:ask')
  @ApiOperation({ summary: 'The same as CSV, for an own tool', description: 'UTF-8, commas, CR LF. Plan and figures of the limits with the pipe asked about, warnings, every point with its readings, every plotted point with its limits, signals and their answers, readings out of specification, and what was left out.' })
  @ApiParam(CHART)
  @all(PIPE)
  @ApiProduces(CSV)
  @ApiResponse({ status: 200, description: 'The chart.', content: binary(CSV) })
  async csv(@Param('id') id: string, @Query() query: AnyQuery, @Res({ passthrough: true }) reply: FastifyReply): Promise<StreamableFile> {
    const lines = await this.answers.csv(pathId(id), chartQuestionOf(query));
    void reply.header('cache-control', 'private, no-store');
    return new StreamableFile(Readable.from(lines), { type: `${CSV}; charset=utf-8; header=present`, disposition: 'attachment; filename="control-chart.csv"' });
  }

  @Get('control-charts/:id/chart.svg')
  @Allow('questions:ask')
  @ApiOperation({ summary: 'The chart as SVG' })
  @ApiParam(CHART)
  @all(PIPE)
  @ApiProduces(SVG)
  @ApiResponse({ status: 200, description: 'The chart.', content: binary(SVG) })
  async svg(@Param('id') id: string, @Query() query: AnyQuery, @Res({ passthrough: true }) reply: FastifyReply): Promise<StreamableFile> {
    return sent(reply, Buffer.from(await this.answers.svg(pathId(id), chartQuestionOf(query))), SVG, 'control-chart.svg');
  }

  @Get('control-charts/:id/chart.pdf')
  @Allow('questions:ask')
  @ApiOperation({ summary: 'The chart as a PDF' })
  @ApiParam(CHART)
  @all(PIPE)
  @ApiProduces(PDF)
  @ApiResponse({ status: 200, description: 'The chart.', content: binary(PDF) })
  async pdf(@Param('id') id: string, @Query() query: AnyQuery, @Res({ passthrough: true }) reply: FastifyReply): Promise<StreamableFile> {
    return sent(reply, await this.answers.pdf(pathId(id), chartQuestionOf(query)), PDF, 'control-chart.pdf');
  }

  @Get('control-charts/:id/capability')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'How the spread of the readings compares with the specification',
    description: 'Indices with their intervals, by as many independent readings as there are (by percentiles without), and what speaks against them; of all readings, removed or not, the least and the greatest with its place, and the pipe outside; and whether the process was in control.',
  })
  @ApiParam(CHART)
  @all(PIPE)
  @ApiResponse({ status: 200, type: CapabilityAnswer, description: 'The study.' })
  capability(@Param('id') id: string, @Query() query: AnyQuery): Promise<CapabilityAnswer> {
    return this.capabilities.of(pathId(id), chartQuestionOf(query));
  }

  @Get('control-charts/:id/trial-limits')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'The limits that some pipe would give',
    description: 'With what speaks against them, the chart that would do better, and the digest that is sent back with a signature.',
  })
  @ApiParam(CHART)
  @ApiQuery({ name: 'fromM', required: true, description: 'Footage where the pipe begins, metres.', ...text('0') })
  @ApiQuery({ name: 'toM', required: true, description: 'Where it ends; not part of it.', ...text('60') })
  @all(REMOVALS)
  @ApiResponse({ status: 200, type: TrialLimitsAnswer, description: 'The limits.' })
  trial(@Param('id') id: string, @Query() query: AnyQuery): Promise<TrialLimitsAnswer> {
    return this.trials.of(pathId(id), trialQuestionOf(query));
  }

  @Get('casing-strings/:id/chart-signals')
  @Allow('questions:ask')
  @ApiOperation({ summary: 'What the charts of a string signal, and nobody has answered', description: 'Chart by chart, each signal with its age, the pipe to watch, and the plan of reaction.' })
  @ApiParam({ name: 'id', description: 'The casing string.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: StringSignalsAnswer, description: 'The signals.' })
  ofString(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<StringSignalsAnswer> {
    return this.signals.of(pathId(id), knownAtOf(at));
  }
}

function sent(reply: FastifyReply, bytes: Uint8Array, type: string, fileName: string): StreamableFile {
  void reply.header('cache-control', 'private, no-store');
  return new StreamableFile(bytes, { type, disposition: `inline; filename="${fileName}"`, length: bytes.length });
}
