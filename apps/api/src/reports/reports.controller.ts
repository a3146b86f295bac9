import { Controller, Get, Param, Query, Res, StreamableFile } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiProduces, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow } from '../access/allow.decorator.js';
import { KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import type { Query as ReportQuery } from '../trace/trace-question.js';
import { PAPERS, reportQuestionOf } from './report-question.js';
import { ReportsService } from './reports.service.js';

const PDF = 'application/pdf';

@ApiTags('questions')
@Controller('api/nonconformances')
export class ReportsController {
  constructor(private readonly reports: ReportsService) {}

  @Get(':id/report')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'The report of a nonconformance as a PDF',
    description:
      'What was asked for and found, where it was then and is now in both walls with ±, what was decided, and every '
      + 'amendment. The fingerprint in it is the same for the same knowledge, whenever it is printed.',
  })
  @ApiParam({ name: 'id', description: 'The nonconformance.', format: 'uuid' })
  @ApiQuery({ name: 'paper', required: false, enum: PAPERS, description: 'The paper; A4 when absent.', example: 'A4' })
  @KnownAtQuery()
  @ApiProduces(PDF)
  @ApiResponse({ status: 200, description: 'The report.', content: { [PDF]: { schema: { type: 'string', format: 'binary' } } } })
  async nonconformance(
    @Param('id') id: string,
    @Query() query: ReportQuery,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<StreamableFile> {
    const { paper, asKnownAt } = reportQuestionOf(query);
    const { fileName, bytes } = await this.reports.nonconformance(pathId(id), paper, asKnownAt);
    void reply.header('cache-control', 'private, no-store');
    return new StreamableFile(bytes, { type: PDF, disposition: `inline; filename="${fileName}"`, length: bytes.length });
  }
}
