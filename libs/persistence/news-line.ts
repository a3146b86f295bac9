import pg from 'pg';
import { DataSource } from 'typeorm';

const RETRY_MS = 1000;
const HEARTBEAT_MS = 2000;
/** Without a sign of life for so long, the connection counts as down. */
const SILENCE_MS = 5000;

export interface NewsLineOptions {
  readonly channel: string;
  /** Under which the connection shows in the database. */
  readonly name: string;
  readonly heard: (payload: string) => void;
  /** Called whenever it listens again, before it `isCurrent`: news may have been missed. What it throws counts as a lost connection. */
  readonly connected: (client: pg.Client) => Promise<void>;
  /** Called when it listens no more, until `connected` is called again. */
  readonly lost: (error: unknown) => void;
}

/**
 * One connection that hears what PostgreSQL's NOTIFY says on a channel, delivered when the telling transaction commits. It
 * connects again by itself, and knows whether it hears: a line that died in silence is noticed by its heartbeat.
 */
export class NewsLine {
  private connection: pg.Client | null = null;
  private heardAt = -Infinity;
  private retry: NodeJS.Timeout | null = null;
  private heartbeat: NodeJS.Timeout | null = null;
  private stopped = false;

  constructor(
    private readonly dataSource: DataSource,
    private readonly options: NewsLineOptions,
  ) {}

  /** True while all news is heard. */
  get isCurrent(): boolean {
    return performance.now() - this.heardAt < SILENCE_MS;
  }

  /** The connection, to ask something by the way, which waits while it is being made; null while there is none. */
  get client(): pg.Client | null {
    return this.connection;
  }

  async connect(): Promise<void> {
    const { options } = this.dataSource;
    const connectionString = options.type === 'postgres' ? options.url : undefined;
    const { channel, name, heard } = this.options;
    const client = new pg.Client({ connectionString, application_name: name, connectionTimeoutMillis: 5000, query_timeout: SILENCE_MS });
    client.on('notification', ({ payload }) => { heard(payload ?? ''); });
    client.on('error', (error) => { void this.drop(client, error); });
    client.on('end', () => { void this.drop(client, new Error('the connection ended')); });
    this.connection = client;
    try {
      await client.connect();
      await client.query(`listen ${channel}`);
      await this.options.connected(client);
      if (this.connection !== client) return;
      this.heardAt = performance.now();
      this.heartbeat = setInterval(() => { void this.beat(client); }, HEARTBEAT_MS).unref();
    } catch (error) {
      await this.drop(client, error);
    }
  }

  async close(): Promise<void> {
    this.stopped = true;
    if (this.retry !== null) clearTimeout(this.retry);
    await this.end();
  }

  private async beat(client: pg.Client): Promise<void> {
    const asked = performance.now();
    try {
      await client.query('select 1');
      if (this.connection === client) this.heardAt = asked;
    } catch (error) {
      await this.drop(client, error);
    }
  }

  private async drop(client: pg.Client, error: unknown): Promise<void> {
    if (this.connection !== client || this.stopped) return;
    const ended = this.end();
    this.options.lost(error);
    await ended;
    this.retry = setTimeout(() => { void this.connect(); }, RETRY_MS).unref();
  }

  private async end(): Promise<void> {
    const client = this.connection;
    this.connection = null;
    this.heardAt = -Infinity;
    if (this.heartbeat !== null) clearInterval(this.heartbeat);
    await client?.end().catch(() => undefined);
  }
}
