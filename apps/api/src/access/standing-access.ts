import { Injectable } from '@nestjs/common';
import type { FastifyRequest } from 'fastify';
import { AccessNews } from './access-news.js';
import { permits, type Permission } from './permissions.js';
import { TokenHolders } from './token-holders.js';
import { sentToken, type SentToken } from './token.js';

/** Whether an answer that goes on for long may still go on: asked anew, and without counting as a use of the session. */
@Injectable()
export class StandingAccess {
  constructor(
    private readonly holders: TokenHolders,
    private readonly news: AccessNews,
  ) {}

  /** The token of a request that the guard let pass. */
  tokenOf(request: FastifyRequest): SentToken {
    const token = sentToken(request);
    if (token === null || token === 'unreadable') throw new Error('the guard lets nobody pass without a token');
    return token;
  }

  /** True while the token is valid, by the database, and its holder has the permission. */
  async holds(token: SentToken, permission: Permission): Promise<boolean> {
    const holder = await this.holders.find(token);
    return holder !== null && permits(permission, holder.principal.parties);
  }

  /** Has `follower` called whenever any access changed, or may have. */
  follow(follower: () => void): void {
    this.news.follow(follower);
  }
}
