import { Readable } from 'node:stream';
import { Controller, Get, Param, Post, Query, Req, Res, StreamableFile } from '@nestjs/common';
import { ApiBody, ApiConsumes, ApiOperation, ApiParam, ApiProduces, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { Allow } from '../access/allow.decorator.js';
import { actorOf } from '../access/principal.js';
import { isPrintable, isSha256 } from '../http/fields.js';
import { malformed, notFound } from '../http/problem.js';
import { streamedBody, STREAMED_TYPES } from '../http/streamed-body.js';
import { StoredFileAnswer } from './document.dto.js';
import { FilesService } from './files.service.js';

@ApiTags('files')
@Controller('api/files')
export class FilesController {
  constructor(private readonly files: FilesService) {}

  @Post()
  @Allow('file:write')
  @ApiOperation({
    summary: 'Send a file: a certificate, a photo of a tag',
    description: 'The body is the file itself. It is known by its content; sent twice, it is there once.',
  })
  @ApiConsumes(...STREAMED_TYPES)
  @ApiBody({ schema: { type: 'string', format: 'binary' } })
  @ApiQuery({ name: 'name', required: false, description: 'Its name: the ending must fit the content.', schema: { type: 'string', maxLength: 200, example: 'TS-2026-00417.pdf' } })
  @ApiResponse({ status: 201, type: StoredFileAnswer, description: 'The file as taken.' })
  async send(@Req() request: FastifyRequest, @Query('name') name: unknown): Promise<StoredFileAnswer> {
    if (name !== undefined && !isPrintable(name, 1, 200)) {
      throw malformed([{ field: 'name', value: name, limit: '1 to 200 printable characters' }]);
    }
    return this.files.take(actorOf(request), streamedBody(request), name ?? null);
  }

  @Get(':sha256')
  @Allow('records:read')
  @ApiOperation({ summary: 'A file' })
  @ApiParam({ name: 'sha256', description: 'SHA-256 of its bytes.', schema: { type: 'string', pattern: '^[0-9a-f]{64}$', example: 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855' } })
  @ApiProduces('application/octet-stream')
  @ApiResponse({ status: 200, description: 'Its bytes.', content: { 'application/octet-stream': { schema: { type: 'string', format: 'binary' } } } })
  async get(@Param('sha256') sha256: string, @Res({ passthrough: true }) reply: FastifyReply): Promise<StreamableFile> {
    if (!isSha256(sha256)) throw malformed([{ field: 'sha256', value: sha256, limit: '64 hexadecimal digits in lower case' }]);
    const found = await this.files.read(sha256);
    if (found === null) throw notFound('file', sha256);
    void reply.header('cache-control', 'private, no-store');
    return new StreamableFile(Readable.from(found.bytes), {
      // Never shown by a browser as what somebody else made it to be: the name and type are for the saved file.
      type: 'application/octet-stream', disposition: `attachment; filename="${sha256.slice(0, 16)}${found.ending}"`, length: found.sizeBytes,
    });
  }
}
