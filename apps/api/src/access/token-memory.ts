import { Injectable, Logger } from '@nestjs/common';
import { AccessNews } from './access-news.js';
import type { Principal } from './principal.js';
import { IDLE_MINUTES, TokenHolders, type TokenHolder } from './token-holders.js';
import type { SentToken } from './token.js';

const IDLE_MS = IDLE_MINUTES * 60_000;
const SEEN_EVERY_MS = 60_000;
const MOST_KEPT = 10_000;

interface Remembered {
  readonly principal: Principal;
  readonly endsAt: number;
  /** Null for tokens that idling does not end. */
  idleEndsAt: number | null;
  seenWrittenAt: number;
}

/**
 * Whom a token stands for, looked up in the database once and remembered until any access changes anywhere. It is
 * never remembered while the news of changes cannot be heard. Times are of the process's monotonic clock, in ms.
 */
@Injectable()
export class TokenMemory {
  private readonly logger = new Logger(TokenMemory.name);
  private readonly kept = new Map<string, Remembered>();
  /** Counts the changes of access, so that an answer read before a change is not kept after it. */
  private changes = 0;

  constructor(
    private readonly holders: TokenHolders,
    private readonly news: AccessNews,
  ) {
    news.follow(() => {
      this.changes += 1;
      this.kept.clear();
    });
  }

  /** The holder when it is remembered; null when it must be looked up. */
  recall(token: SentToken): Principal | null {
    const kept = this.kept.get(keyOf(token));
    if (kept === undefined || !this.news.isCurrent) return null;
    const now = performance.now();
    if (now >= kept.endsAt || (kept.idleEndsAt !== null && now >= kept.idleEndsAt)) return null;
    this.noteUse(token, kept, now);
    return kept.principal;
  }

  /** The holder by the database, or null when the token is not valid. */
  async lookUp(token: SentToken): Promise<Principal | null> {
    const before = this.changes;
    const asked = performance.now();
    const holder = await this.holders.find(token);
    if (holder === null) return null;
    const entry = entryOf(holder, asked);
    this.noteUse(token, entry, performance.now());
    if (this.changes === before && this.news.isCurrent) this.keep(keyOf(token), entry);
    return holder.principal;
  }

  private keep(key: string, entry: Remembered): void {
    if (this.kept.size >= MOST_KEPT) this.kept.clear();
    this.kept.set(key, entry);
  }

  /** Moves the end by idling on, and writes it down at most once a minute; no answer waits for that write. */
  private noteUse(token: SentToken, entry: Remembered, now: number): void {
    if (entry.idleEndsAt === null) return;
    entry.idleEndsAt = now + IDLE_MS;
    if (now - entry.seenWrittenAt < SEEN_EVERY_MS) return;
    entry.seenWrittenAt = now;
    this.holders.seen(token.digest).catch((error: unknown) => {
      this.logger.warn(`the use of a session was not noted: ${String(error)}`);
    });
  }
}

/** A device's digest is of its secret alone, so its id belongs to the key. */
const keyOf = (token: SentToken): string => (token.kind === 'session' ? token.digest : `${token.secretId}.${token.digest}`);

function entryOf(holder: TokenHolder, now: number): Remembered {
  const idleEndsAt = holder.idleLeftMs === null ? null : now + holder.idleLeftMs;
  return {
    principal: holder.principal,
    endsAt: now + holder.leftMs,
    idleEndsAt,
    seenWrittenAt: idleEndsAt === null ? now : idleEndsAt - IDLE_MS,
  };
}
