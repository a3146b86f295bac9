import { Injectable, Logger, type OnApplicationBootstrap, type OnApplicationShutdown } from '@nestjs/common';
import { DataSource } from 'typeorm';
import { v7 as uuidv7 } from 'uuid';
import { NewsLine } from '#libs/persistence';

/** Called when something of the string was written, and whenever that may have been missed. */
export type StringFollower = () => void;

const REFRESH_MS = 20_000;
const LONGEST_SILENCE = '60 seconds';
const SETTLE_MS = 250;
const LONGEST_SETTLE_MS = 60_000;

/**
 * Carries the news that a record of a string was written, by whichever process, to who follows that string: told by the
 * database at the commit. Strings that nobody follows cost their writers nothing.
 */
@Injectable()
export class StringNews implements OnApplicationBootstrap, OnApplicationShutdown {
  private readonly logger = new Logger(StringNews.name);
  private readonly watcher = uuidv7();
  private readonly followers = new Map<string, Set<StringFollower>>();
  private readonly line: NewsLine;
  private refresh: NodeJS.Timeout | null = null;

  constructor(dataSource: DataSource) {
    this.line = new NewsLine(dataSource, {
      channel: 'string_news', name: 'everymetre string news',
      heard: (payload) => { this.tell(payload.split(' ', 1)[0] ?? ''); },
      connected: async (client) => {
        await client.query(WATCH, [[...this.followers.keys()], this.watcher]);
        for (const stringId of this.followers.keys()) void this.settle(stringId);
      },
      lost: (error) => { this.logger.warn(`no news of strings until reconnected: ${error instanceof Error ? error.message : String(error)}`); },
    });
  }

  /** True while all that is written of followed strings is heard of. */
  get isCurrent(): boolean {
    return this.line.isCurrent;
  }

  /** Has `follower` called from now on; gives how to end that. */
  follow(stringId: string, follower: StringFollower): () => void {
    const own = this.followers.get(stringId);
    if (own === undefined) {
      this.followers.set(stringId, new Set([follower]));
      this.say(WATCH, [[stringId], this.watcher]).then(() => this.settle(stringId)).catch(() => undefined);
    } else own.add(follower);
    return () => { this.leave(stringId, follower); };
  }

  async onApplicationBootstrap(): Promise<void> {
    await this.line.connect();
    this.refresh = setInterval(() => { void this.stay(); }, REFRESH_MS).unref();
  }

  async onApplicationShutdown(): Promise<void> {
    if (this.refresh !== null) clearInterval(this.refresh);
    await this.say('delete from string_watch where watcher = $1', [this.watcher]);
    await this.line.close();
  }

  /** Those who fell silent are cleared away by whoever comes by. */
  private async stay(): Promise<void> {
    await this.say(WATCH, [[...this.followers.keys()], this.watcher]);
    await this.say('delete from string_watch where until < clock_timestamp()', []);
  }

  private leave(stringId: string, follower: StringFollower): void {
    const own = this.followers.get(stringId);
    own?.delete(follower);
    if (own?.size !== 0) return;
    this.followers.delete(stringId);
    void this.say('delete from string_watch where watcher = $1 and string_id = $2', [this.watcher, stringId]);
  }

  private tell(stringId: string): void {
    for (const follower of this.followers.get(stringId) ?? []) follower();
  }

  /** A write that began before the watch was there tells nothing: looks again until all of that time have ended. */
  private async settle(stringId: string): Promise<void> {
    const [begun] = await this.say<{ next: string }>('select pg_snapshot_xmax(pg_current_snapshot())::text as next', []);
    const until = performance.now() + LONGEST_SETTLE_MS;
    while (begun !== undefined && performance.now() < until && this.followers.has(stringId)) {
      const [state] = await this.say<{ settled: boolean }>('select pg_snapshot_xmin(pg_current_snapshot()) >= $1::xid8 as settled', [begun.next]);
      this.tell(stringId);
      if (state?.settled !== false) return;
      await new Promise<void>((resolve) => { setTimeout(resolve, SETTLE_MS).unref(); });
    }
  }

  /** Over the connection of the news; nothing while there is none: who follows is told when it is back. */
  private async say<Row extends object>(sql: string, values: unknown[]): Promise<Row[]> {
    try {
      return (await this.line.client?.query<Row>(sql, values))?.rows ?? [];
    } catch (error) {
      this.logger.warn(`what is followed could not be told: ${error instanceof Error ? error.message : String(error)}`);
      return [];
    }
  }
}

const WATCH = `
insert into string_watch (string_id, watcher, until) select id, $2, clock_timestamp() + interval '${LONGEST_SILENCE}' from unnest($1::uuid[]) as id
on conflict (string_id, watcher) do update set until = excluded.until`;
