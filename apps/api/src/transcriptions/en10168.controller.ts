import { Body, Controller, Post } from '@nestjs/common';
import { ApiBody, ApiHeader, ApiOperation, ApiResponse, ApiTags } from '@nestjs/swagger';
import { paperFromEn10168 } from '#libs/strip';
import { Allow } from '../access/allow.decorator.js';
import { malformed } from '../http/problem.js';
import { parsed } from '../http/validation.js';
import { Write, type WriteRequest } from '../records/write-request.js';
import { CertificateTranscriptionAnswer } from './certificate-transcription.dto.js';
import { CertificateTranscriptionsService } from './certificate-transcriptions.service.js';
import { En10168Input } from './en10168.dto.js';

@ApiTags('certificate-transcriptions')
@Controller('api/certificate-transcriptions')
export class En10168Controller {
  constructor(private readonly transcriptions: CertificateTranscriptionsService) {}

  @Post('en10168')
  @Allow('certificate-transcription:write')
  @ApiHeader({ name: 'Idempotency-Key', required: false, description: 'A repeated request with this key gives the first answer again.' })
  @ApiOperation({
    summary: 'Enter a certificate by the field codes of EN 10168',
    description: 'What a code leaves open is said beside the value: the element of C71 to C92, the kind of yield of C11, the gauge length of C13.',
  })
  @ApiBody({ type: En10168Input })
  @ApiResponse({ status: 201, type: CertificateTranscriptionAnswer, description: 'The keying as taken.' })
  async enter(@Body() body: unknown, @Write() request: WriteRequest): Promise<CertificateTranscriptionAnswer> {
    const { id, observedAt, keying, confirm = [], document } = parsed(En10168Input, body);
    const read = paperFromEn10168(document);
    if ('faults' in read) throw malformed(read.faults.map(({ path, fault }) => ({ field: `document.${path}`, value: null, limit: fault })));
    return this.transcriptions.createFromPaper(read.paper, { id, observedAt, keying, confirm }, request);
  }
}
