import { Injectable, Logger, type OnApplicationBootstrap, type OnApplicationShutdown } from '@nestjs/common';
import pg from 'pg';
import { DataSource } from 'typeorm';
import type { Transaction } from '#libs/persistence';

const CHANNEL = 'access_changed';
const RETRY_MS = 1000;
const HEARTBEAT_MS = 2000;
/** Without a sign of life for so long, the connection counts as down. */
const SILENCE_MS = 5000;

/**
 * Carries the news that some access was revoked to all processes of the API, through PostgreSQL's NOTIFY, which is
 * delivered when the revoking transaction commits. What is remembered of tokens may be used only while `isCurrent`.
 */
@Injectable()
export class AccessNews implements OnApplicationBootstrap, OnApplicationShutdown {
  private readonly logger = new Logger(AccessNews.name);
  private readonly followers: (() => void)[] = [];
  private connection: pg.Client | null = null;
  private heardAt = -Infinity;
  private retry: NodeJS.Timeout | null = null;
  private heartbeat: NodeJS.Timeout | null = null;
  private stopped = false;

  constructor(private readonly dataSource: DataSource) {}

  /** True while every revocation is heard of. */
  get isCurrent(): boolean {
    return performance.now() - this.heardAt < SILENCE_MS;
  }

  /** Has `follower` called on every change of access, and whenever changes may have been missed. */
  follow(follower: () => void): void {
    this.followers.push(follower);
  }

  /** Tells all processes, at the commit of `tx`, that access has changed. */
  async announce(tx: Transaction): Promise<void> {
    await tx.manager.query('select pg_notify($1, $2)', [CHANNEL, '']);
  }

  /** Has this process forget at once, without waiting for the news to come round. */
  changed(): void {
    for (const follower of this.followers) follower();
  }

  async onApplicationBootstrap(): Promise<void> {
    await this.connect();
  }

  async onApplicationShutdown(): Promise<void> {
    this.stopped = true;
    if (this.retry !== null) clearTimeout(this.retry);
    await this.drop();
  }

  private async connect(): Promise<void> {
    const { options } = this.dataSource;
    const connectionString = options.type === 'postgres' ? options.url : undefined;
    const client = new pg.Client({
      connectionString, application_name: 'everymetre access news', connectionTimeoutMillis: 5000, query_timeout: SILENCE_MS,
    });
    client.on('notification', () => { this.changed(); });
    client.on('error', (error) => { void this.lost(client, error); });
    client.on('end', () => { void this.lost(client, new Error('the connection ended')); });
    this.connection = client;
    try {
      await client.connect();
      await client.query(`listen ${CHANNEL}`);
      this.changed();
      this.heardAt = performance.now();
      this.heartbeat = setInterval(() => { void this.beat(client); }, HEARTBEAT_MS).unref();
    } catch (error) {
      await this.lost(client, error);
    }
  }

  private async beat(client: pg.Client): Promise<void> {
    const asked = performance.now();
    try {
      await client.query('select 1');
      if (this.connection === client) this.heardAt = asked;
    } catch (error) {
      await this.lost(client, error);
    }
  }

  private async lost(client: pg.Client, error: unknown): Promise<void> {
    if (this.connection !== client || this.stopped) return;
    this.logger.warn(`no news of revoked access until reconnected: ${error instanceof Error ? error.message : String(error)}`);
    await this.drop();
    this.retry = setTimeout(() => { void this.connect(); }, RETRY_MS).unref();
  }

  private async drop(): Promise<void> {
    const client = this.connection;
    this.connection = null;
    this.heardAt = -Infinity;
    if (this.heartbeat !== null) clearInterval(this.heartbeat);
    this.changed();
    await client?.end().catch(() => undefined);
  }
}
