import { Injectable, Logger, type OnApplicationBootstrap, type OnApplicationShutdown } from '@nestjs/common';
import { DataSource } from 'typeorm';
import { NewsLine, type Transaction } from '#libs/persistence';

const CHANNEL = 'access_changed';

/**
 * Carries the news that some access was revoked to all processes of the API, through PostgreSQL's NOTIFY, which is
 * delivered when the revoking transaction commits. What is remembered of tokens may be used only while `isCurrent`.
 */
@Injectable()
export class AccessNews implements OnApplicationBootstrap, OnApplicationShutdown {
  private readonly logger = new Logger(AccessNews.name);
  private readonly followers: (() => void)[] = [];
  private readonly line: NewsLine;

  constructor(dataSource: DataSource) {
    this.line = new NewsLine(dataSource, {
      channel: CHANNEL, name: 'everymetre access news',
      heard: () => { this.changed(); },
      connected: () => {
        this.changed();
        return Promise.resolve();
      },
      lost: (error) => {
        this.logger.warn(`no news of revoked access until reconnected: ${error instanceof Error ? error.message : String(error)}`);
        this.changed();
      },
    });
  }

  /** True while every revocation is heard of. */
  get isCurrent(): boolean {
    return this.line.isCurrent;
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
    await this.line.connect();
  }

  async onApplicationShutdown(): Promise<void> {
    await this.line.close();
    this.changed();
  }
}
