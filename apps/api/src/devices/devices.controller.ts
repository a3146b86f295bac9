import { Controller, HttpCode, Param, Post, Req } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiResponse } from '@nestjs/swagger';
import type { FastifyRequest } from 'fastify';
import { Allow } from '../access/allow.decorator.js';
import { actorOf } from '../access/principal.js';
import { pathId, recordController } from '../records/record.controller.js';
import { DeviceAnswer, DeviceInput, DeviceTokenAnswer, TokensEndedAnswer } from './device.dto.js';
import { DeviceTokensService } from './device-tokens.service.js';
import { DevicesService } from './devices.service.js';

const Routes = recordController({
  path: 'devices', read: 'device:read', write: 'device:write', input: DeviceInput, answer: DeviceAnswer, filters: ['stringId'],
});

@Controller('api/devices')
export class DevicesController extends Routes {
  constructor(
    devices: DevicesService,
    private readonly tokens: DeviceTokensService,
  ) {
    super(devices);
  }

  @Post(':id/tokens')
  @Allow('device:write')
  @ApiParam({ name: 'id', description: 'The device.', format: 'uuid' })
  @ApiOperation({ summary: 'Make a token for a device; the newest two are valid' })
  @ApiResponse({ status: 201, type: DeviceTokenAnswer, description: 'The token, shown this once.' })
  async makeToken(@Param('id') id: string, @Req() request: FastifyRequest): Promise<DeviceTokenAnswer> {
    return this.tokens.make(pathId(id), actorOf(request));
  }

  @Post(':id/tokens/end')
  @HttpCode(200)
  @Allow('device:write')
  @ApiParam({ name: 'id', description: 'The device.', format: 'uuid' })
  @ApiOperation({ summary: 'End all tokens of a device' })
  @ApiResponse({ status: 200, type: TokensEndedAnswer, description: 'How many were ended.' })
  async endTokens(@Param('id') id: string, @Req() request: FastifyRequest): Promise<TokensEndedAnswer> {
    return { ended: await this.tokens.endAll(pathId(id), actorOf(request)) };
  }
}
