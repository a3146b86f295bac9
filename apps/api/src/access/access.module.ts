import { Global, Module } from '@nestjs/common';
import { APP_GUARD, DiscoveryModule } from '@nestjs/core';
import { AccessGuard } from './access.guard.js';
import { AccessNews } from './access-news.js';
import { AccountController } from './account.controller.js';
import { AccountService } from './account.service.js';
import { Credentials } from './credentials.js';
import { PasswordHasher } from './password-hasher.js';
import { PermissionCheck } from './permission-check.js';
import { Sessions } from './sessions.js';
import { Signers } from './signers.js';
import { StandingAccess } from './standing-access.js';
import { TokenHolders } from './token-holders.js';
import { TokenMemory } from './token-memory.js';

/** Who may do what: the guard before every route, sessions, passwords. */
@Global()
@Module({
  imports: [DiscoveryModule],
  controllers: [AccountController],
  providers: [
    { provide: APP_GUARD, useClass: AccessGuard },
    AccessNews, AccountService, Credentials, PasswordHasher, PermissionCheck, Sessions, Signers, StandingAccess, TokenHolders, TokenMemory,
  ],
  exports: [AccessNews, Credentials, Sessions, Signers, StandingAccess],
})
export class AccessModule {}
