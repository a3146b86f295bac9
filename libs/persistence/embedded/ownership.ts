import { setTimeout as pause } from 'node:timers/promises';
import { Client, type ClientConfig } from 'pg';
import { codeOf, reasonOf } from './embedded-postgres-error.js';

/** Any number will do, so long as every Everymetre takes the same; advisory locks count per database. */
const lockKey = 6_513_011;
const pollMs = 100;
/** A server notices within milliseconds that a killed program is gone; so long the lock may still be seen as held. */
const patienceMs = 2_000;
/** Recovery after a crash goes on for up to minutes, during which a server lets nobody in. */
const silentLimitMs = 300_000;
const reclaimLimitMs = 60_000;

/** What came of asking for the ownership: it, or that a living program holds it, or that the server went away or does not answer. */
export type Claim = { kind: 'owner'; ownership: Ownership } | { kind: 'taken' } | { kind: 'gone' } | { kind: 'silent' } | { kind: 'refused'; reason: string };

/**
 * The right of one program over its server: a session-level advisory lock on a connection of its own. The server
 * drops it with the connection, so a killed program leaves none, and a living one is told from an orphan.
 */
export class Ownership {
  private released = false; // read through isReleased(): it changes while others wait
  private lost = false;

  private constructor(
    private readonly connection: ClientConfig,
    private client: Client,
    private readonly log: (line: string) => void,
  ) {
    this.watch(client);
  }

  /** Asks for the ownership of a server, waiting while it starts up; `isAlive` tells whether it still runs. */
  static async claim(connection: ClientConfig, isAlive: () => Promise<boolean>, log: (line: string) => void): Promise<Claim> {
    let taken = 0;
    const deadline = Date.now() + silentLimitMs;
    while (await isAlive()) {
      const attempt = await tryLock(connection);
      if (attempt.kind === 'owner') return { kind: 'owner', ownership: new Ownership(connection, attempt.client, log) };
      if (attempt.kind === 'refused') return attempt;
      taken += attempt.kind === 'taken' ? 1 : 0;
      if (taken * pollMs > patienceMs) return { kind: 'taken' };
      if (Date.now() > deadline) return { kind: 'silent' };
      await pause(pollMs);
    }
    return { kind: 'gone' };
  }

  /** True while this program may act on the server: false once another program has become its owner. */
  get holds(): boolean {
    return !this.lost;
  }

  /** Creates the database when it is missing; answers whether it was. The name is the program's own, not an input. */
  async ensureDatabase(name: string): Promise<boolean> {
    const { rowCount } = await this.client.query('SELECT 1 FROM pg_database WHERE datname = $1', [name]);
    if (rowCount !== 0) return false;
    await this.client.query(`CREATE DATABASE ${this.client.escapeIdentifier(name)}`);
    return true;
  }

  /** Ends what a dead program left running on its server, which may still hold locks on rows. */
  async endOtherSessions(): Promise<void> {
    await this.client.query(
      `SELECT pg_terminate_backend(pid, 5000) FROM pg_stat_activity WHERE backend_type = 'client backend' AND pid <> pg_backend_pid()`,
    );
  }

  /** From now on the end of the connection is expected: the server is about to be stopped. */
  expectEnd(): void {
    this.released = true;
  }

  /** Closes the connection, which gives the lock up. */
  async release(): Promise<void> {
    this.released = true;
    await this.client.end().catch(() => undefined);
  }

  private isReleased(): boolean {
    return this.released;
  }

  private watch(client: Client): void {
    // An error here is followed by the end of the connection, which is dealt with below.
    client.on('error', (error) => {
      if (!this.released) this.log(`the connection that holds the lock on PostgreSQL failed: ${error.message}`);
    });
    client.once('end', () => {
      if (!this.released) void this.reclaim();
    });
  }

  /** PostgreSQL restarts its sessions when one of them crashes; the lock is then taken again. */
  private async reclaim(): Promise<void> {
    const deadline = Date.now() + reclaimLimitMs;
    while (!this.isReleased() && Date.now() < deadline) {
      const attempt = await tryLock(this.connection);
      if (attempt.kind === 'owner' && this.isReleased()) {
        await attempt.client.end();
        return;
      }
      if (attempt.kind === 'owner') {
        this.client = attempt.client;
        this.watch(attempt.client);
        return;
      }
      if (attempt.kind === 'taken') break;
      await pause(pollMs);
    }
    if (this.isReleased()) return;
    this.lost = true;
    this.log('the lock on PostgreSQL is lost: another program has taken the server, or it no longer answers');
  }
}

type Attempt = { kind: 'owner'; client: Client } | { kind: 'taken' } | { kind: 'later' } | { kind: 'refused'; reason: string };

async function tryLock(connection: ClientConfig): Promise<Attempt> {
  const client = new Client({ ...connection, connectionTimeoutMillis: 5_000, application_name: 'everymetre owner' });
  client.on('error', () => undefined); // the failed call below reports it
  try {
    await client.connect();
    await client.query('SET idle_session_timeout = 0; SET statement_timeout = 0');
    const { rows } = await client.query<{ locked: boolean }>('SELECT pg_try_advisory_lock($1) AS locked', [lockKey]);
    if (rows[0]?.locked === true) {
      client.removeAllListeners('error');
      return { kind: 'owner', client };
    }
    await client.end();
    return { kind: 'taken' };
  } catch (error) {
    await client.end().catch(() => undefined);
    // 53300: too many connections, so a living program uses it. 28: the password is not this cluster's.
    if (codeOf(error) === '53300') return { kind: 'taken' };
    if (codeOf(error).startsWith('28')) return { kind: 'refused', reason: reasonOf(error) };
    return { kind: 'later' };
  }
}
