import { Injectable, type CanActivate, type ExecutionContext } from '@nestjs/common';
import { Reflector } from '@nestjs/core';
import type { FastifyRequest } from 'fastify';
import { Configuration } from '../configuration.js';
import { Refused } from '../http/problem.js';
import { senderOf } from './address.js';
import { ALLOWED } from './allow.decorator.js';
import { permits, type Permission } from './permissions.js';
import type { Principal } from './principal.js';
import { RateLimiter } from './rate-limiter.js';
import { TokenMemory } from './token-memory.js';
import { sentToken, type SentToken } from './token.js';

/** Stands before every route: finds out who asks, and lets pass only what the route's permission allows. */
@Injectable()
export class AccessGuard implements CanActivate {
  private readonly strangers: RateLimiter;
  private readonly holders: RateLimiter;

  constructor(
    private readonly reflector: Reflector,
    private readonly memory: TokenMemory,
    { rate }: Configuration,
  ) {
    this.strangers = new RateLimiter(rate.strangerPerMinute);
    this.holders = new RateLimiter(rate.sessionPerMinute);
  }

  canActivate(context: ExecutionContext): boolean | Promise<boolean> {
    const allowed = this.reflector.get<Permission | 'everyone' | undefined>(ALLOWED, context.getHandler());
    if (allowed === 'everyone') return true;
    const request = context.switchToHttp().getRequest<FastifyRequest>();
    const token = sentToken(request);
    if (token === null || token === 'unreadable') throw this.stranger(request, token === null);
    const remembered = this.memory.recall(token);
    if (remembered !== null) return this.admit(request, token, remembered, allowed);
    return this.lookedUp(request, token, allowed);
  }

  private async lookedUp(request: FastifyRequest, token: SentToken, allowed: Permission | undefined): Promise<boolean> {
    // Guessing tokens is refused before it costs the database anything.
    if (this.strangers.isSpent(senderOf(request.ip), Date.now())) throw tooMany();
    const principal = await this.memory.lookUp(token);
    if (principal === null) throw this.stranger(request, false);
    return this.admit(request, token, principal, allowed);
  }

  private admit(request: FastifyRequest, token: SentToken, principal: Principal, allowed: Permission | undefined): boolean {
    if (!this.holders.take(token.digest, Date.now())) throw tooMany();
    request.principal = principal;
    if (allowed !== undefined && permits(allowed, principal.parties)) return true;
    throw new Refused(403, 'forbidden', `This needs the permission ${allowed ?? 'of a route that has none'}.`);
  }

  private stranger(request: FastifyRequest, silent: boolean): Refused {
    if (!this.strangers.take(senderOf(request.ip), Date.now())) return tooMany();
    const detail = silent
      ? 'This needs a signed-in person: send Authorization: Bearer with the token of POST /api/sign-in.'
      : 'This token is not valid, or not any more: sign in again.';
    return new Refused(401, 'sign-in', detail);
  }
}

const tooMany = (): Refused =>
  new Refused(429, 'too-many', 'Too many requests in this minute.', [], {
    retryAfterSeconds: RateLimiter.secondsLeft(Date.now()),
  });
