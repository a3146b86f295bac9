import { Body, Controller, Get, HttpCode, Param, Post, Put, Query, Req } from '@nestjs/common';
import { ApiBody, ApiConsumes, ApiHeader, ApiOperation, ApiParam, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import type { FastifyRequest } from 'fastify';
import { Allow } from '../access/allow.decorator.js';
import { Caller, type Principal } from '../access/principal.js';
import { malformed } from '../http/problem.js';
import { streamedBody } from '../http/streamed-body.js';
import { pathId } from '../records/record.controller.js';
import { Write, type WriteRequest } from '../records/write-request.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { PART_TYPES, partQuestionOf } from './part-question.js';
import { SignalParts } from './signal-parts.service.js';
import { SignalPartTaken, SignalUploadAnswer, SignalUploadEndInput, SignalUploadInput } from './signal-upload.dto.js';
import { SignalUploads } from './signal-uploads.service.js';

const UPLOAD = { name: 'id', description: 'The upload.', format: 'uuid' };

@ApiTags('signals')
@Controller('api/signal-uploads')
export class SignalUploadsController {
  constructor(
    private readonly uploads: SignalUploads,
    private readonly parts: SignalParts,
  ) {}

  @Post()
  @Allow('signal:append')
  @ApiOperation({
    summary: 'Open an upload of samples',
    description: 'Says what its parts will be. Sent again with the same content, it is the same upload: whoever lost an answer sends the request again.',
  })
  @ApiBody({ type: SignalUploadInput })
  @ApiResponse({ status: 201, type: SignalUploadAnswer, description: 'The upload.' })
  open(@Body() body: unknown, @Write() request: WriteRequest): Promise<SignalUploadAnswer> {
    return this.uploads.open(body, request);
  }

  @Get(':id')
  @Allow('signal-upload:read')
  @ApiParam(UPLOAD)
  @ApiOperation({ summary: 'What of an upload is here', description: 'The numbers of its parts: whoever lost count sends the others.' })
  @ApiResponse({ status: 200, type: SignalUploadAnswer, description: 'The upload.' })
  show(@Param('id') id: string, @Caller() caller: Principal): Promise<SignalUploadAnswer> {
    return this.uploads.answer(pathId(id), caller.device);
  }

  @Put(':id/parts/:partNo')
  @Allow('signal:append')
  @ApiOperation({
    summary: 'Send a part of an upload',
    description:
      'A whole table: a column that places each sample and one for each channel. Parts come in any order and from several senders; each is taken whole or not at all, and once. '
      + 'In one part the pipe goes one way, and the counter is not set anew. Nothing read is an empty field or null; a bound is ">= 100" in text.',
  })
  @ApiParam(UPLOAD)
  @ApiParam({ name: 'partNo', description: 'Its number, from 1 on.', schema: { type: 'integer', minimum: 1, maximum: 1_000_000, example: 1 } })
  @ApiConsumes(...Object.keys(PART_TYPES))
  @ApiBody({ schema: { type: 'string', format: 'binary' } })
  @ApiHeader({ name: 'Content-Digest', required: true, description: 'SHA-256 of the bytes sent (RFC 9530).', schema: { type: 'string', example: 'sha-256=:47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU=:' } })
  @ApiHeader({ name: 'Content-Encoding', required: false, description: 'How the bytes are compressed.', schema: { type: 'string', enum: ['identity', 'gzip', 'deflate', 'br', 'zstd'] } })
  @ApiQuery({ name: 'direction', required: false, description: 'Which way the pipe went; forward when absent.', schema: { type: 'string', enum: ['forward', 'backward'] } })
  @ApiQuery({ name: 'firstAt', required: false, description: 'The sender\'s clock at the first sample; needed with counter readings.', schema: { type: 'string', example: '2026-11-02T09:00:00Z' } })
  @ApiQuery({ name: 'lastAt', required: false, description: 'The same at the last sample.', schema: { type: 'string', example: '2026-11-02T09:00:41Z' } })
  @ApiResponse({ status: 200, type: SignalPartTaken, description: 'The part, taken now or before.' })
  async part(
    @Param('id') id: string, @Param('partNo') partNo: string, @Query() query: AnyQuery, @Req() http: FastifyRequest, @Write() request: WriteRequest,
  ): Promise<SignalPartTaken> {
    const shape = await this.uploads.shape(pathId(id), request.device ?? null);
    const order = { ...partQuestionOf(http, query, shape.upload.position === 'time'), shape, partNo: partNumber(partNo), contentLength: http.headers['content-length'] };
    return this.parts.take(streamedBody(http), order, request);
  }

  @Post(':id/end')
  @HttpCode(200)
  @Allow('signal:append')
  @ApiParam(UPLOAD)
  @ApiOperation({ summary: 'End an upload', description: 'Says how many parts were sent. Refused while one of them is not here.' })
  @ApiBody({ type: SignalUploadEndInput })
  @ApiResponse({ status: 200, type: SignalUploadAnswer, description: 'The upload.' })
  end(@Param('id') id: string, @Body() body: unknown, @Write() request: WriteRequest): Promise<SignalUploadAnswer> {
    return this.uploads.end(pathId(id), body, request);
  }
}

function partNumber(text: string): number {
  if (/^[1-9]\d{0,6}$/.test(text) && Number(text) <= 1_000_000) return Number(text);
  throw malformed([{ field: 'partNo', value: text, limit: 'a whole number, 1 to 1000000' }]);
}
