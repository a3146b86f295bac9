import { Readable } from 'node:stream';
import { applyDecorators, Controller, Get, Param, Query, Res, StreamableFile } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiProduces, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { Allow } from '../access/allow.decorator.js';
import { KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { EvidenceFiles } from './evidence-files.service.js';
import { evidenceJson } from './evidence-json.js';
import { EVIDENCE_AXES, evidenceLasQuestionOf, evidenceQuestionOf, WALLS } from './evidence-question.js';
import { EvidenceAnswer } from './evidence.dto.js';
import { Evidences } from './evidences.service.js';

const Asked = (): MethodDecorator => applyDecorators(
  ApiParam({ name: 'id', description: 'The casing string.', format: 'uuid' }),
  ApiQuery({ name: 'by', required: false, enum: EVIDENCE_AXES, description: 'What fromM and toM are: footage, or measured depth, which means pipe of both walls; footage when absent.', example: 'footage' }),
  ApiQuery({ name: 'fromM', required: false, description: 'Where the interval begins, metres.', schema: { type: 'string', example: '0' } }),
  ApiQuery({ name: 'toM', required: false, description: 'Where it ends, metres.', schema: { type: 'string', example: '500' } }),
  KnownAtQuery(),
);

const JSON_TYPE = 'application/json; charset=utf-8';
const CSV = 'text/csv';
const LAS = 'text/plain';

@ApiTags('questions')
@Controller('api/casing-strings')
export class EvidenceController {
  constructor(
    private readonly evidences: Evidences,
    private readonly files: EvidenceFiles,
  ) {}

  @Get(':id/evidence')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What stands as evidence for every metre, against the control plan',
    description: 'Metre by metre what each item of the control plan comes to, and the worst of them, down to the records that say so; by footage, and by depth of both walls. Worked out from the records, never entered.',
  })
  @Asked()
  @ApiResponse({ status: 200, type: EvidenceAnswer, description: 'The evidence.' })
  async of(@Param('id') id: string, @Query() query: AnyQuery, @Res({ passthrough: true }) reply: FastifyReply): Promise<Buffer> {
    const answer = await this.evidences.of(pathId(id), evidenceQuestionOf(query));
    void reply.header('content-type', JSON_TYPE);
    return evidenceJson(answer);
  }

  @Get(':id/evidence.csv')
  @Allow('questions:ask')
  @ApiOperation({ summary: 'The same as a table', description: 'The verdict by footage, on both walls by depth, and item by item with the records that decide.' })
  @Asked()
  @ApiProduces(CSV)
  @ApiResponse({ status: 200, description: 'The table.', content: { [CSV]: { schema: { type: 'string', format: 'binary' } } } })
  async csv(@Param('id') id: string, @Query() query: AnyQuery, @Res({ passthrough: true }) reply: FastifyReply): Promise<StreamableFile> {
    return sent(reply, Readable.from(await this.files.csv(pathId(id), evidenceQuestionOf(query))), CSV, 'evidence.csv');
  }

  @Get(':id/evidence.las')
  @Allow('questions:ask')
  @ApiOperation({ summary: 'The verdict on one wall by depth, as CWLS LAS 2.0' })
  @Asked()
  @ApiQuery({ name: 'wall', required: true, enum: WALLS, description: 'Which wall.', example: 'outer' })
  @ApiProduces(LAS)
  @ApiResponse({ status: 200, description: 'The curves.', content: { [LAS]: { schema: { type: 'string', format: 'binary' } } } })
  async las(@Param('id') id: string, @Query() query: AnyQuery, @Res({ passthrough: true }) reply: FastifyReply): Promise<StreamableFile> {
    const question = evidenceLasQuestionOf(query);
    return sent(reply, Readable.from(await this.files.las(pathId(id), question)), LAS, `evidence-${question.wall}-wall.las`);
  }
}

function sent(reply: FastifyReply, bytes: Readable, type: string, fileName: string): StreamableFile {
  void reply.header('cache-control', 'private, no-store');
  return new StreamableFile(bytes, { type, disposition: `attachment; filename="${fileName}"` });
}
