import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { knownAtOf, pathId } from '../records/record.controller.js';
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
  @ApiQuery({ name: 'asKnownAt', required: false, description: 'As known at this instant; now when absent.', schema: { type: 'string', format: 'date-time', example: '2026-03-05T12:00:00Z' } })
  @ApiResponse({ status: 200, type: VerificationAnswer, description: 'State and differences.' })
  async verification(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<VerificationAnswer> {
    return this.transcriptions.verification(pathId(id), knownAtOf(at));
  }
}
