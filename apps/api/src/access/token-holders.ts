import { Injectable } from '@nestjs/common';
import { DataSource } from 'typeorm';
import type { Party, Role } from './permissions.js';
import type { Principal } from './principal.js';
import type { SentToken } from './token.js';

/** Whom a valid token stands for, and how long it would stay valid if nothing were revoked. */
export interface TokenHolder {
  readonly principal: Principal;
  /** Time left, in ms, whatever is done. */
  readonly leftMs: number;
  /** Time left, in ms, while nothing is done; null when idling does no harm. */
  readonly idleLeftMs: number | null;
}

interface SessionRow {
  person_id: string;
  name: string;
  roles: Role[];
  left_ms: number;
  idle_left_ms: number;
}

interface DeviceRow {
  person_id: string;
  name: string;
  device_id: string;
  string_id: string;
  counters: string[];
  left_ms: number;
}

export const IDLE_MINUTES = 30;

const SESSION_HOLDER = `
select p.id as person_id, p.name, p.roles,
       extract(epoch from s.expires_at - clock_timestamp())::float8 * 1000 as left_ms,
       extract(epoch from s.seen_at + interval '${IDLE_MINUTES} minutes' - clock_timestamp())::float8 * 1000 as idle_left_ms
  from session s join person p on p.id = s.person_id and p.known_until is null
 where s.token_hash = $1 and s.ended_at is null and p.state = 'active' and p.active
   and s.expires_at > clock_timestamp() and s.seen_at > clock_timestamp() - interval '${IDLE_MINUTES} minutes'`;

const DEVICE_HOLDER = `
select d.keyed_by as person_id, d.name, d.id as device_id, d.string_id, d.counters,
       extract(epoch from d.expires_at - clock_timestamp())::float8 * 1000 as left_ms
  from device_secret s join device d on d.id = s.device_id and d.known_until is null
 where s.id = $1 and s.secret_hash = $2 and s.ended_at is null and d.state = 'active' and d.active
   and d.expires_at > clock_timestamp()`;

/** Finds, in the database, whom a token stands for. All times are the database's. */
@Injectable()
export class TokenHolders {
  constructor(private readonly dataSource: DataSource) {}

  /** The holder, or null when the token is unknown, ended or expired, or its person or device inactive. */
  async find(token: SentToken): Promise<TokenHolder | null> {
    return token.kind === 'session' ? this.ofSession(token.digest) : this.ofDevice(token.secretId, token.digest);
  }

  /** Notes that a session is in use. */
  async seen(digest: string): Promise<void> {
    await this.dataSource.query(
      'update session set seen_at = clock_timestamp() where token_hash = $1 and ended_at is null',
      [digest],
    );
  }

  private async ofSession(digest: string): Promise<TokenHolder | null> {
    const rows: SessionRow[] = await this.dataSource.query(SESSION_HOLDER, [digest]);
    const row = rows[0];
    if (row === undefined) return null;
    const principal: Principal = {
      personId: row.person_id, name: row.name, parties: row.roles, via: `session:${digest.slice(0, 16)}`, device: null,
    };
    return { principal, leftMs: row.left_ms, idleLeftMs: row.idle_left_ms };
  }

  private async ofDevice(secretId: string, digest: string): Promise<TokenHolder | null> {
    const rows: DeviceRow[] = await this.dataSource.query(DEVICE_HOLDER, [secretId, digest]);
    const row = rows[0];
    if (row === undefined) return null;
    const parties: Party[] = ['device'];
    const principal: Principal = {
      personId: row.person_id, name: row.name, parties, via: `device:${secretId}`,
      device: { id: row.device_id, stringId: row.string_id, counters: row.counters },
    };
    return { principal, leftMs: row.left_ms, idleLeftMs: null };
  }
}
