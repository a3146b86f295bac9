import { Body, Controller, Get, HttpCode, Param, Post, Query, Req } from '@nestjs/common';
import { ApiBody, ApiOperation, ApiParam, ApiQuery, ApiResponse, ApiTags, getSchemaPath } from '@nestjs/swagger';
import type { FastifyRequest } from 'fastify';
import { senderOf } from '../access/address.js';
import { Allow } from '../access/allow.decorator.js';
import { actorOf } from '../access/principal.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { SignedWithdrawalInput } from '../signed-records/signed-withdrawal.dto.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { ReleaseProposalAnswer } from './release-proposal.dto.js';
import { ReleaseProposals } from './release-proposals.service.js';
import { footageOf } from './release-question.js';
import { ReleaseStandingAnswer } from './release-standing.dto.js';
import { ReleaseStandings } from './release-standings.service.js';
import { ReleaseAnswer, ReleaseInput } from './release.dto.js';
import { ReleasesService } from './releases.service.js';

const STRING = { name: 'id', description: 'The casing string.', format: 'uuid' };
const RELEASE = { name: 'id', description: 'The release.', format: 'uuid' };

@ApiTags('releases')
@Controller('api')
export class ReleasesController {
  constructor(
    private readonly releases: ReleasesService,
    private readonly proposals: ReleaseProposals,
    private readonly standings: ReleaseStandings,
  ) {}

  @Get('casing-strings/:id/release-proposal')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What a release of some pipe would rest on',
    description: 'The evidence of the pipe, what stands against a release, what would need a reason, and the digest that is sent back with the signature.',
  })
  @ApiParam(STRING)
  @ApiQuery({ name: 'fromM', required: true, description: 'Footage from which on, metres.', schema: { type: 'string', example: '0' } })
  @ApiQuery({ name: 'toM', required: true, description: 'Footage up to which, metres.', schema: { type: 'string', example: '12' } })
  @ApiResponse({ status: 200, type: ReleaseProposalAnswer, description: 'The proposal.' })
  async propose(@Param('id') id: string, @Query() query: AnyQuery, @Req() request: FastifyRequest): Promise<ReleaseProposalAnswer> {
    return this.proposals.of(pathId(id), footageOf(query), actorOf(request).personId);
  }

  @Post('releases')
  @Allow('release:sign')
  @ApiOperation({
    summary: 'Sign a release of pipe',
    description: 'By entering the secret again. The evidence with the digest that was shown is frozen with it; a release reopens by itself where a later record makes its evidence worse.',
  })
  @ApiBody({ type: ReleaseInput })
  @ApiResponse({ status: 201, type: ReleaseAnswer, description: 'The release as signed.' })
  async release(@Body() body: unknown, @Req() request: FastifyRequest): Promise<ReleaseAnswer> {
    return this.releases.release(actorOf(request), body, senderOf(request.ip));
  }

  @Post('releases/:id/withdrawal')
  @HttpCode(200)
  @Allow('release:sign')
  @ApiOperation({ summary: 'Withdraw a release', description: 'By entering the secret again. It stays readable, with the reason.' })
  @ApiParam(RELEASE)
  @ApiBody({ type: SignedWithdrawalInput })
  @ApiResponse({ status: 200, type: ReleaseAnswer, description: 'The release as withdrawn.' })
  async withdraw(@Param('id') id: string, @Body() body: unknown, @Req() request: FastifyRequest): Promise<ReleaseAnswer> {
    return this.releases.withdraw(actorOf(request), pathId(id), body, senderOf(request.ip));
  }

  @Get('releases/:id')
  @Allow('records:read')
  @ApiOperation({ summary: 'One release, with the evidence as it stood' })
  @ApiParam(RELEASE)
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: ReleaseAnswer, description: 'The release.' })
  async get(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<ReleaseAnswer> {
    return this.releases.get(pathId(id), knownAtOf(at));
  }

  @Get('casing-strings/:id/releases')
  @Allow('records:read')
  @ApiOperation({ summary: 'The releases of a string, in the order in which they were signed' })
  @ApiParam(STRING)
  @KnownAtQuery()
  @ApiResponse({ status: 200, description: 'The releases, withdrawn ones among them.', schema: { type: 'array', items: { $ref: getSchemaPath(ReleaseAnswer) } } })
  async ofString(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<ReleaseAnswer[]> {
    return this.releases.ofString(pathId(id), knownAtOf(at));
  }

  @Get('casing-strings/:id/release-standing')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'What is released, what was reopened since, and why',
    description: 'Release by release the evidence as released beside the evidence as known, with the list of differences and where the reopened pipe stands on both walls.',
  })
  @ApiParam(STRING)
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: ReleaseStandingAnswer, description: 'The releases beside what is known.' })
  async standing(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<ReleaseStandingAnswer> {
    return this.standings.of(pathId(id), knownAtOf(at));
  }
}
