import { Body, Controller, Get, Param, Post, Query, Req } from '@nestjs/common';
import { ApiBody, ApiOperation, ApiParam, ApiResponse, ApiTags, getSchemaPath } from '@nestjs/swagger';
import type { FastifyRequest } from 'fastify';
import { senderOf } from '../access/address.js';
import { Allow } from '../access/allow.decorator.js';
import { actorOf } from '../access/principal.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { CoilDecisionAnswer, CoilDecisionInput } from './coil-decision.dto.js';
import { CoilDecisionsService } from './coil-decisions.service.js';


@ApiTags('coil-decisions')
@Controller('api')
export class CoilDecisionsController {
  constructor(private readonly decisions: CoilDecisionsService) {}

  @Post('coil-decisions')
  @Allow('coil-decision:sign')
  @ApiOperation({
    summary: 'Sign a decision on a coil',
    description: 'By entering the secret again. The evaluation with the digest that was shown is frozen with it; the last decision stands.',
  })
  @ApiBody({ type: CoilDecisionInput })
  @ApiResponse({ status: 201, type: CoilDecisionAnswer, description: 'The decision as signed.' })
  async decide(@Body() body: unknown, @Req() request: FastifyRequest): Promise<CoilDecisionAnswer> {
    return this.decisions.decide(actorOf(request), body, senderOf(request.ip));
  }

  @Get('coil-decisions/:id')
  @Allow('records:read')
  @ApiOperation({ summary: 'One decision, with the evaluation as it stood' })
  @ApiParam({ name: 'id', description: 'The decision.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: CoilDecisionAnswer, description: 'The decision.' })
  async get(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<CoilDecisionAnswer> {
    return this.decisions.get(pathId(id), knownAtOf(at));
  }

  @Get('coils/:id/decisions')
  @Allow('records:read')
  @ApiOperation({ summary: 'The decisions on a coil, oldest first' })
  @ApiParam({ name: 'id', description: 'The coil.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, description: 'The decisions; the last one stands.', schema: { type: 'array', items: { $ref: getSchemaPath(CoilDecisionAnswer) } } })
  async ofCoil(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<CoilDecisionAnswer[]> {
    return this.decisions.ofCoil(pathId(id), knownAtOf(at));
  }
}
