import { Body, Controller, Get, HttpCode, Param, Post, Query, Req } from '@nestjs/common';
import { ApiBody, ApiOperation, ApiParam, ApiResponse, ApiTags, getSchemaPath } from '@nestjs/swagger';
import type { FastifyRequest } from 'fastify';
import { senderOf } from '../access/address.js';
import { Allow } from '../access/allow.decorator.js';
import { actorOf } from '../access/principal.js';
import { knownAtOf, KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import { SignedWithdrawalInput } from '../signed-records/signed-withdrawal.dto.js';
import { ChartLimitsAnswer, ChartLimitsInput } from './chart-limits.dto.js';
import { LimitsSignings } from './limits-signings.service.js';

const LIMITS = { name: 'id', description: 'The limits.', format: 'uuid' };

@ApiTags('control charts')
@Controller('api')
export class LimitsSigningsController {
  constructor(private readonly signings: LimitsSignings) {}

  @Post('chart-limits')
  @Allow('chart-limits:sign')
  @ApiOperation({
    summary: 'Approve limits of a control chart',
    description: 'By entering the secret again. The study with the digest that was shown is frozen with it. Limits are never changed: new ones are a new number.',
  })
  @ApiBody({ type: ChartLimitsInput })
  @ApiResponse({ status: 201, type: ChartLimitsAnswer, description: 'The limits as signed.' })
  async sign(@Body() body: unknown, @Req() request: FastifyRequest): Promise<ChartLimitsAnswer> {
    return this.signings.sign(actorOf(request), body, senderOf(request.ip));
  }

  @Post('chart-limits/:id/withdrawal')
  @HttpCode(200)
  @Allow('chart-limits:sign')
  @ApiOperation({ summary: 'Withdraw limits', description: 'By entering the secret again. They stay readable, with the reason; pipe that no others hold for is watched by none.' })
  @ApiParam(LIMITS)
  @ApiBody({ type: SignedWithdrawalInput })
  @ApiResponse({ status: 200, type: ChartLimitsAnswer, description: 'The limits as withdrawn.' })
  async withdraw(@Param('id') id: string, @Body() body: unknown, @Req() request: FastifyRequest): Promise<ChartLimitsAnswer> {
    return this.signings.withdraw(actorOf(request), pathId(id), body, senderOf(request.ip));
  }

  @Get('chart-limits/:id')
  @Allow('records:read')
  @ApiOperation({ summary: 'Some limits, with the study as it stood' })
  @ApiParam(LIMITS)
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: ChartLimitsAnswer, description: 'The limits.' })
  async get(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<ChartLimitsAnswer> {
    return this.signings.get(pathId(id), knownAtOf(at));
  }

  @Get('control-charts/:id/limits')
  @Allow('records:read')
  @ApiOperation({ summary: 'The limits of a control chart, by their numbers' })
  @ApiParam({ name: 'id', description: 'The control chart.', format: 'uuid' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, description: 'The limits, withdrawn ones among them.', schema: { type: 'array', items: { $ref: getSchemaPath(ChartLimitsAnswer) } } })
  async ofChart(@Param('id') id: string, @Query('asKnownAt') at: unknown): Promise<ChartLimitsAnswer[]> {
    return this.signings.ofChart(pathId(id), knownAtOf(at));
  }
}
