import { Controller, Get, Param, Query, Res, StreamableFile } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiProduces, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow } from '../access/allow.decorator.js';
import { KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { PAPERS } from '../reports/report-question.js';
import type { Report } from '../reports/reports.service.js';
import type { Query as PaperQuery } from '../trace/trace-question.js';
import { sheetQuestionOf, tagQuestionOf } from './coil-paper-question.js';
import { CoilPapersService } from './coil-papers.service.js';

const PDF = 'application/pdf';
const REVISION = { name: 'specificationId', required: false, description: 'The revision to print it against, where the coil has no order; the one it was decided under when absent.', schema: { type: 'string', format: 'uuid' } } as const;

@ApiTags('questions')
@Controller('api/coils')
export class CoilPapersController {
  constructor(private readonly papers: CoilPapersService) {}

  @Get(':id/sheet')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'The sheet of a coil as a PDF',
    description: 'Values against limits, what does not fit together, decisions and signatures, permits. The same knowledge has the same fingerprint.',
  })
  @ApiParam({ name: 'id', description: 'The coil.', format: 'uuid' })
  @ApiQuery({ name: 'paper', required: false, enum: PAPERS, description: 'The paper; A4 when absent.', example: 'A4' })
  @ApiQuery(REVISION)
  @KnownAtQuery()
  @ApiProduces(PDF)
  @ApiResponse({ status: 200, description: 'The sheet.', content: { [PDF]: { schema: { type: 'string', format: 'binary' } } } })
  async sheet(@Param('id') id: string, @Query() query: PaperQuery, @Res({ passthrough: true }) reply: FastifyReply): Promise<StreamableFile> {
    return sent(reply, await this.papers.sheet(pathId(id), sheetQuestionOf(query)));
  }

  @Get(':id/tag')
  @Allow('questions:ask')
  @ApiOperation({ summary: 'The tag of a coil as a PDF, with a QR code that leads to the coil' })
  @ApiParam({ name: 'id', description: 'The coil.', format: 'uuid' })
  @ApiQuery(REVISION)
  @KnownAtQuery()
  @ApiProduces(PDF)
  @ApiResponse({ status: 200, description: 'The tag, 148 × 105 mm.', content: { [PDF]: { schema: { type: 'string', format: 'binary' } } } })
  async tag(@Param('id') id: string, @Query() query: PaperQuery, @Res({ passthrough: true }) reply: FastifyReply): Promise<StreamableFile> {
    return sent(reply, await this.papers.tag(pathId(id), tagQuestionOf(query)));
  }
}

function sent(reply: FastifyReply, { fileName, bytes }: Report): StreamableFile {
  void reply.header('cache-control', 'private, no-store');
  return new StreamableFile(bytes, { type: PDF, disposition: `inline; filename="${fileName}"`, length: bytes.length });
}
