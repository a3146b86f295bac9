import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { VerificationAnswer } from './certificate-transcription.dto.js';
import { CertificateTranscriptionsService } from './certificate-transcriptions.service.js';

@ApiTags('questions')
@Controller('api/certificates')
export class VerificationController {
  constructor(private readonly transcriptions: CertificateTranscriptionsService) {}

  @Get(':id/verification')
  @Allow('questions:ask')
  @ApiOperation({ summary: 'How the two keyings of a certificate compare', description: 'Every difference is shown; none is chosen.' })
  @ApiParam({ name: 'id', description: 'The certificate.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: VerificationAnswer, description: 'State and differences.' })
  async verification(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<VerificationAnswer> {
    return this.transcriptions.verification(pathId(id), knownAtOf(at));
  }
}
