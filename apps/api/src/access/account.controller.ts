import { Body, Controller, Get, HttpCode, Post, Req } from '@nestjs/common';
import { ApiBearerAuth, ApiBody, ApiOperation, ApiResponse, ApiTags } from '@nestjs/swagger';
import type { FastifyRequest } from 'fastify';
import { parsedWithSecrets } from '../http/secret-fields.js';
import { AccountService } from './account.service.js';
import { PasswordInput, PersonSummary, SignInAnswer, SignInInput } from './account.dto.js';
import { senderOf } from './address.js';
import { Allow, AllowEveryone } from './allow.decorator.js';
import { ROLES } from './permissions.js';
import { actorOf, Caller, type Principal } from './principal.js';
import { Sessions } from './sessions.js';
import { sentToken } from './token.js';

@ApiTags('access')
@ApiBearerAuth()
@Controller('api')
export class AccountController {
  constructor(
    private readonly account: AccountService,
    private readonly sessions: Sessions,
  ) {}

  @Post('sign-in')
  @HttpCode(200)
  @AllowEveryone()
  @ApiOperation({ summary: 'Sign in', security: [] })
  @ApiBody({ type: SignInInput })
  @ApiResponse({ status: 200, type: SignInAnswer, description: 'The token of the session.' })
  async signIn(@Body() body: unknown, @Req() request: FastifyRequest): Promise<SignInAnswer> {
    return this.account.signIn(parsedWithSecrets(SignInInput, body, ['password']), senderOf(request.ip));
  }

  @Post('sign-out')
  @HttpCode(204)
  @Allow('own-session:end')
  @ApiOperation({ summary: 'Sign out: ends this session' })
  @ApiResponse({ status: 204, description: 'The session has ended.' })
  async signOut(@Req() request: FastifyRequest): Promise<void> {
    const token = sentToken(request);
    if (token !== null && token !== 'unreadable') await this.sessions.end(actorOf(request), token.digest);
  }

  @Get('me')
  @Allow('own-account:read')
  @ApiOperation({ summary: 'Who is signed in' })
  @ApiResponse({ status: 200, type: PersonSummary, description: 'The person of this session.' })
  me(@Caller() { personId, name, parties }: Principal): PersonSummary {
    return { id: personId, name, roles: ROLES.filter((role) => parties.includes(role)) };
  }

  @Post('me/password')
  @HttpCode(204)
  @Allow('own-password:change')
  @ApiOperation({ summary: 'Change the own password: ends all own sessions' })
  @ApiBody({ type: PasswordInput })
  @ApiResponse({ status: 204, description: 'The password is changed and all sessions have ended.' })
  async changePassword(@Body() body: unknown, @Req() request: FastifyRequest): Promise<void> {
    const input = parsedWithSecrets(PasswordInput, body, ['current', 'next']);
    await this.account.changePassword(actorOf(request), input, senderOf(request.ip));
  }
}
