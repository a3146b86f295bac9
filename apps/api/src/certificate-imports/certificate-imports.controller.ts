import { Controller, Get, HttpCode, Post, Query, Req, Res } from '@nestjs/common';
import { ApiBody, ApiConsumes, ApiOperation, ApiProduces, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { Allow } from '../access/allow.decorator.js';
import { actorOf } from '../access/principal.js';
import { streamedBody } from '../http/streamed-body.js';
import { CertificateFileAnswer, CertificateImportAnswer } from './certificate-import.dto.js';
import { CertificateImports } from './certificate-imports.service.js';
import { templateCsv } from './certificate-template.js';
import { importOrderOf, importQuestionOf } from './import-question.js';

const CSV = 'text/csv';
const KEYING = { name: 'keying', required: false, description: '1: the first keying (when absent); 2: the second, by another person.', schema: { type: 'string', enum: ['1', '2'], example: '1' } };
const SPECIFICATION = { name: 'specificationId', required: false, description: 'The revision to hold the values against; that of each printed order when absent.', schema: { type: 'string', format: 'uuid' } };
const FILE = { schema: { type: 'string', format: 'binary' } };

@ApiTags('certificate-imports')
@Controller('api/certificate-imports')
export class CertificateImportsController {
  constructor(private readonly imports: CertificateImports) {}

  @Get('template')
  @Allow('questions:ask')
  @ApiOperation({ summary: 'The template of a certificate file, with two lines as an example' })
  @ApiProduces(CSV)
  @ApiResponse({ status: 200, description: 'The template.', content: { [CSV]: { schema: { type: 'string' } } } })
  template(@Res({ passthrough: true }) reply: FastifyReply): string {
    void reply.header('content-type', `${CSV}; charset=utf-8`).header('content-disposition', 'attachment; filename="certificates.csv"');
    return templateCsv();
  }

  @Post('preview')
  @HttpCode(200)
  @Allow('certificate-transcription:write')
  @ApiOperation({
    summary: 'What a certificate file says, and what would come of it',
    description: 'Every fault with its line and column, every unlikely value, every value that does not conform. Nothing is written.',
  })
  @ApiConsumes(CSV)
  @ApiBody(FILE)
  @ApiQuery(KEYING)
  @ApiQuery(SPECIFICATION)
  @ApiResponse({ status: 200, type: CertificateFileAnswer, description: 'What was read.' })
  async preview(@Req() request: FastifyRequest, @Query() query: Record<string, unknown>): Promise<CertificateFileAnswer> {
    return this.imports.preview(actorOf(request), streamedBody(request), importQuestionOf(query));
  }

  @Post()
  @Allow('certificate-transcription:write')
  @ApiOperation({
    summary: 'Import a certificate file',
    description: 'A certificate and a keying for each paper in it, all or none. The file itself is kept with them.',
  })
  @ApiConsumes(CSV)
  @ApiBody(FILE)
  @ApiQuery({ name: 'id', description: 'Made by the client (UUIDv7); a repeated import with it has the effect of one.', schema: { type: 'string', format: 'uuid', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b26' } })
  @ApiQuery({ name: 'observedAt', description: 'When the papers were read.', schema: { type: 'string', format: 'date-time', example: '2026-02-18T09:40:00Z' } })
  @ApiQuery(KEYING)
  @ApiQuery(SPECIFICATION)
  @ApiQuery({ name: 'confirm', required: false, description: 'The code of the preview: the unlikely values are what the papers print.', schema: { type: 'string', maxLength: 64 } })
  @ApiResponse({ status: 201, type: CertificateImportAnswer, description: 'What was imported.' })
  async import(@Req() request: FastifyRequest, @Query() query: Record<string, unknown>): Promise<CertificateImportAnswer> {
    return this.imports.import(actorOf(request), streamedBody(request), importOrderOf(query));
  }
}
