import { Injectable } from '@nestjs/common';
import { DataSource } from 'typeorm';
import { inTransaction, instantFromDatabase, type Actor, type Transaction } from '#libs/persistence';
import { AccessNews } from './access-news.js';
import { digestOfSecret, newSecret } from './token.js';

const LONGEST_HOURS = 12;

/** A session as its owner gets it, once. */
export interface OpenedSession {
  readonly token: string;
  readonly expiresAt: string;
}

/**
 * Sessions of people. They are opaque tokens looked up in the database, and no signed tokens that carry their own
 * rights: access must end at once when a role is taken away, which a token that proves itself cannot do.
 */
@Injectable()
export class Sessions {
  constructor(
    private readonly dataSource: DataSource,
    private readonly news: AccessNews,
  ) {}

  /** Opens a session. Only the token's SHA-256 is kept. */
  async open(personId: string): Promise<OpenedSession> {
    const token = newSecret();
    const rows: { expires_at: string }[] = await this.dataSource.query(
      `insert into session (token_hash, person_id, opened_at, seen_at, expires_at)
       select $1, $2, now, now, now + interval '${LONGEST_HOURS} hours' from clock_timestamp() as now
       returning expires_at`,
      [digestOfSecret(token), personId],
    );
    return { token, expiresAt: instantFromDatabase(rows[0]?.expires_at ?? '') };
  }

  /** Ends one session, by the digest of its token. */
  async end(actor: Actor, digest: string): Promise<void> {
    await inTransaction(this.dataSource, actor, null, async (tx) => {
      await tx.manager.query(
        'update session set ended_at = clock_timestamp() where token_hash = $1 and ended_at is null',
        [digest],
      );
      await this.news.announce(tx);
    });
    this.news.changed();
  }

  /** Ends all sessions of a person, when `tx` commits. */
  async endAllOf(tx: Transaction, personId: string): Promise<void> {
    await tx.manager.query(
      'update session set ended_at = clock_timestamp() where person_id = $1 and ended_at is null',
      [personId],
    );
    await this.news.announce(tx);
  }
}
