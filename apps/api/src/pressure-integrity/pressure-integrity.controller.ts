import { Readable } from 'node:stream';
import { Controller, Get, Param, Query, Res, StreamableFile } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiProduces, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow } from '../access/allow.decorator.js';
import { KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { PAPERS } from '../reports/report-question.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { pressureAnswer } from './pressure-answer.js';
import { PressureCharts } from './pressure-charts.service.js';
import { pressureCsv } from './pressure-csv.js';
import { PressureIntegrityAnswer } from './pressure-integrity.dto.js';
import { pressureLas } from './pressure-las.js';
import { PressureProfiles } from './pressure-profiles.service.js';
import { PRESSURE_MEASURES, pressureLasQuestionOf, pressurePageQuestionOf, pressureQuestionOf, pressureTableQuestionOf, WALLS } from './pressure-question.js';

const STRING = { name: 'id', description: 'The casing string.', format: 'uuid' };
const PIPE = [
  ApiQuery({ name: 'by', required: false, enum: PRESSURE_MEASURES, description: 'The measure of fromM and toM; md when absent.', example: 'md' }),
  ApiQuery({ name: 'fromM', required: false, description: 'Where the interval begins, metres; both walls whole when both ends are absent.', schema: { type: 'string', example: '200' } }),
  ApiQuery({ name: 'toM', required: false, description: 'Where it ends, metres; not part of it.', schema: { type: 'string', example: '300' } }),
  ApiQuery({ name: 'at', required: false, description: 'The walls at this time.', schema: { type: 'string', example: '2026-03-12T16:00:00Z' } }),
  ApiQuery({ name: 'shoeMdM', required: false, description: 'The walls with the shoe at this depth, metres.', schema: { type: 'string', example: '598.3' } }),
  ApiQuery({ name: 'windowM', required: false, description: 'Length of pipe for which one least wall stands, metres, 0.1 to 1000; 10, or more for more than 20 km, when absent.', schema: { type: 'string', example: '10' } }),
  KnownAtQuery(),
];
const pipe = (target: object, key: string | symbol, descriptor: PropertyDescriptor): void => {
  for (const decorate of PIPE) decorate(target, key, descriptor);
};

const SVG = 'image/svg+xml';
const PDF = 'application/pdf';
const CSV = 'text/csv';
const LAS = 'text/plain';
const binary = (type: string): Record<string, { schema: { type: string; format: string } }> => ({ [type]: { schema: { type: 'string', format: 'binary' } } });

@ApiTags('questions')
@Controller('api/casing-strings')
export class PressureIntegrityController {
  constructor(
    private readonly profiles: PressureProfiles,
    private readonly charts: PressureCharts,
  ) {}

  @Get(':id/pressure-integrity')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'Internal yield and collapse of both walls as built, advisory',
    description:
      'By API TR 5C3 / ISO 10400 from the yield strength and the least measured wall on record, interval by interval; the outer wall through the fold. '
      + 'What is missing is told as "not computable, because"; nothing is guessed. The weakest of each wall is told with the records it rests on.',
  })
  @ApiParam(STRING)
  @pipe
  @ApiQuery({ name: 'explain', required: false, enum: ['true', 'false'], description: 'Each step with its inputs.', example: 'true' })
  @ApiResponse({ status: 200, type: PressureIntegrityAnswer, description: 'Both walls.' })
  async profile(@Param('id') id: string, @Query() query: AnyQuery): Promise<PressureIntegrityAnswer> {
    return pressureAnswer(await this.profiles.of(pathId(id), pressureQuestionOf(query)));
  }

  @Get(':id/pressure-integrity.csv')
  @Allow('questions:ask')
  @ApiOperation({ summary: 'The same as CSV, a line an interval', description: 'UTF-8, commas, CR LF; what is not known is empty, and why stands beside it. Every line has the cautions.' })
  @ApiParam(STRING)
  @pipe
  @ApiProduces(CSV)
  @ApiResponse({ status: 200, description: 'Both walls, from the top down.', content: binary(CSV) })
  async csv(@Param('id') id: string, @Query() query: AnyQuery, @Res({ passthrough: true }) reply: FastifyReply): Promise<StreamableFile> {
    return streamed(reply, pressureCsv(await this.profiles.of(pathId(id), pressureTableQuestionOf(query))), CSV, 'pressure-integrity.csv');
  }

  @Get(':id/pressure-integrity.las')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'One wall as CWLS LAS 2.0',
    description: 'Curves against measured depth: internal yield, collapse, wall, outside diameter, yield strength, footage. A row at the first and one at the last millimetre of each interval; cautions in ~O.',
  })
  @ApiParam(STRING)
  @pipe
  @ApiQuery({ name: 'wall', required: true, enum: WALLS, description: 'Which wall.', example: 'outer' })
  @ApiProduces(LAS)
  @ApiResponse({ status: 200, description: 'The wall, from the top down.', content: binary(LAS) })
  async las(@Param('id') id: string, @Query() query: AnyQuery, @Res({ passthrough: true }) reply: FastifyReply): Promise<StreamableFile> {
    const question = pressureLasQuestionOf(query);
    return streamed(reply, pressureLas(await this.profiles.of(pathId(id), question), question), LAS, `pressure-integrity-${question.wall}.las`);
  }

  @Get(':id/pressure-integrity.svg')
  @Allow('questions:ask')
  @ApiOperation({ summary: 'The profile against depth, as SVG' })
  @ApiParam(STRING)
  @pipe
  @ApiQuery({ name: 'paper', required: false, enum: PAPERS, description: 'For the PDF alone.', example: 'A4' })
  @ApiProduces(SVG)
  @ApiResponse({ status: 200, description: 'The profile.', content: binary(SVG) })
  async svg(@Param('id') id: string, @Query() query: AnyQuery, @Res({ passthrough: true }) reply: FastifyReply): Promise<StreamableFile> {
    return sent(reply, Buffer.from(await this.charts.svg(pathId(id), pressurePageQuestionOf(query))), SVG, 'pressure-integrity.svg');
  }

  @Get(':id/pressure-integrity.pdf')
  @Allow('questions:ask')
  @ApiOperation({ summary: 'The profile against depth, as a PDF' })
  @ApiParam(STRING)
  @pipe
  @ApiQuery({ name: 'paper', required: false, enum: PAPERS, description: 'The paper, laid across; A4 when absent.', example: 'A4' })
  @ApiProduces(PDF)
  @ApiResponse({ status: 200, description: 'The profile.', content: binary(PDF) })
  async pdf(@Param('id') id: string, @Query() query: AnyQuery, @Res({ passthrough: true }) reply: FastifyReply): Promise<StreamableFile> {
    return sent(reply, await this.charts.pdf(pathId(id), pressurePageQuestionOf(query)), PDF, 'pressure-integrity.pdf');
  }
}

function sent(reply: FastifyReply, bytes: Uint8Array, type: string, fileName: string): StreamableFile {
  void reply.header('cache-control', 'private, no-store');
  return new StreamableFile(bytes, { type, disposition: `inline; filename="${fileName}"`, length: bytes.length });
}

function streamed(reply: FastifyReply, texts: Iterable<string> | AsyncIterable<string>, type: string, fileName: string): StreamableFile {
  void reply.header('cache-control', 'private, no-store');
  return new StreamableFile(Readable.from(encoded(texts)), { type, disposition: `attachment; filename="${fileName}"` });
}

async function* encoded(texts: Iterable<string> | AsyncIterable<string>): AsyncGenerator<Uint8Array> {
  for await (const text of texts) yield Buffer.from(text);
}
