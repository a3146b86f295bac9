import { Body, Controller, Post } from '@nestjs/common';
import { ApiBody, ApiHeader, ApiOperation, ApiResponse, ApiTags } from '@nestjs/swagger';
import { paperFromEn10168 } from '#libs/strip';
import { Allow } from '../access/allow.decorator.js';
import { malformed, Refused } from '../http/problem.js';
import { parsed } from '../http/validation.js';
import type { Finding } from '../records/plausibility.js';
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
    description: 'What a code leaves open is said beside the value: the element of C71 to C92, the kind of yield of C11, the gauge length of C13. A field that the record has no place for is marked.',
  })
  @ApiBody({ type: En10168Input })
  @ApiResponse({ status: 201, type: CertificateTranscriptionAnswer, description: 'The keying as taken.' })
  async enter(@Body() body: unknown, @Write() request: WriteRequest): Promise<CertificateTranscriptionAnswer> {
    const { id, observedAt, keying, confirm = [], document } = parsed(En10168Input, body);
    const read = paperFromEn10168(document);
    if ('faults' in read) throw malformed(read.faults.map(({ path, fault }) => ({ field: `document.${path}`, value: null, limit: fault })));
    const leftOut = read.leftOut.map(({ path, code, meaning, value }): Finding => (
      { tier: 'noted', field: `document.${path}`, value, limit: `kept in the paper alone: the record has no place for ${code}, ${meaning}` }));
    try {
      return await this.transcriptions.createFromPaper(read.paper, { id, observedAt, keying, confirm, leftOut }, request);
    } catch (error) {
      throw error instanceof Refused ? inTermsOfCodes(error, read.paths) : error;
    }
  }
}

/** Where what a keying has under these names stands in the document. */
const FIELDS: Readonly<Record<string, string>> = {
  number: 'document.A03', issuer: 'document.A01', documentType: 'document.A02', issuedOn: 'document.Z02', orderNumber: 'document.A07', specification: 'document.B02',
};

/** A refusal of the keying, with its fields named as they were sent. */
function inTermsOfCodes(refused: Refused, paths: readonly (readonly string[])[]): Refused {
  const errors = refused.errors.map((error) => ({ ...error, field: fieldOf(error.field, paths) }));
  return new Refused(refused.status, refused.code, refused.message, errors, refused.members);
}

function fieldOf(field: string, paths: readonly (readonly string[])[]): string {
  const value = /^lines\[(\d+)\]\.values\[(\d+)\]\.(\w+)$/.exec(field);
  const path = value === null ? undefined : paths[Number(value[1])]?.[Number(value[2])];
  if (path !== undefined) return `document.${path}.${value?.[3] === 'printed' ? 'value' : (value?.[3] ?? '')}`;
  return FIELDS[field] ?? field.replace(/^lines\[(\d+)\](\.heatNumber)?/, (_all, line: string, heat?: string) => `document.products[${line}]${heat === undefined ? '' : '.C00'}`);
}
