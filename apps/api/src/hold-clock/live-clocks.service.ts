import { Injectable, Logger, type BeforeApplicationShutdown, type OnApplicationBootstrap } from '@nestjs/common';
import type { Readable } from 'node:stream';
import { StandingAccess } from '../access/standing-access.js';
import type { SentToken } from '../access/token.js';
import { Refused } from '../http/problem.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { StringNews } from '../string-news/string-news.js';
import { retryText } from './event-stream.js';
import { HoldClocks } from './hold-clocks.service.js';
import { LatestStream } from './latest-stream.js';
import { endedText, LiveClock, type LiveListener } from './live-clock.js';

/** Soonest at the hang-off first; the rest is a question away. */
const LIVE_ITEMS = 20;
/** Of this process. */
const MOST_LISTENERS = 1000;
const RECONNECT_MS = 2000;
/** How often it is asked whether who listens still may. */
const ACCESS_MS = 20_000;
/** Ends of sessions that come together are asked about once. */
const ACCESS_TOGETHER_MS = 100;
const QUESTION = { at: null, asKnownAt: null, from: 0, limit: LIVE_ITEMS };

/** The hold clock as it goes on, pushed to who listens. */
@Injectable()
export class LiveClocks implements OnApplicationBootstrap, BeforeApplicationShutdown {
  private readonly logger = new Logger(LiveClocks.name);
  private readonly clocks = new Map<string, LiveClock>();
  private readonly endings = new Map<string, () => void>();
  private accessTimer: NodeJS.Timeout | null = null;
  private accessSoon: NodeJS.Timeout | null = null;
  private isStopping = false;

  constructor(
    private readonly holdClocks: HoldClocks,
    private readonly strings: CasingStringsService,
    private readonly news: StringNews,
    private readonly access: StandingAccess,
  ) {}

  /**
   * The events of a string from its present state on, for the holder of a token, while that may ask. Refuses with 404 when
   * there is no such string, with 409 when it is void, with 503 when too many listen already or the program is stopping.
   */
  async open(stringId: string, token: SentToken): Promise<Readable> {
    await this.strings.open(stringId, null);
    const listening = [...this.clocks.values()].reduce((sum, { listeners }) => sum + listeners.size, 0);
    if (this.isStopping || listening >= MOST_LISTENERS) {
      throw new Refused(503, 'busy', this.isStopping ? 'The program is being stopped.' : `${MOST_LISTENERS} listen already.`, [], { retryAfterSeconds: 5 });
    }
    const listener = { stream: new LatestStream(), token };
    listener.stream.push(retryText(RECONNECT_MS));
    listener.stream.once('close', () => { this.leave(stringId, listener); });
    this.clockOf(stringId).add(listener);
    return listener.stream;
  }

  onApplicationBootstrap(): void {
    this.accessTimer = setInterval(() => { void this.checkAccess(); }, ACCESS_MS).unref();
    this.access.follow(() => {
      if (this.clocks.size > 0) this.accessSoon ??= setTimeout(() => { void this.checkAccess(); }, ACCESS_TOGETHER_MS).unref();
    });
  }

  /** Before the server waits for its answers to end: these would not. */
  beforeApplicationShutdown(): void {
    this.isStopping = true;
    if (this.accessTimer !== null) clearInterval(this.accessTimer);
    if (this.accessSoon !== null) clearTimeout(this.accessSoon);
    for (const [stringId, clock] of this.clocks) this.end(stringId, clock, 'The program is being stopped: connect again.');
  }

  private clockOf(stringId: string): LiveClock {
    const kept = this.clocks.get(stringId);
    if (kept !== undefined) return kept;
    const clock = new LiveClock(() => this.holdClocks.of(stringId, QUESTION));
    this.clocks.set(stringId, clock);
    this.endings.set(stringId, this.news.follow(stringId, () => { clock.changed(); }));
    return clock;
  }

  private end(stringId: string, clock: LiveClock, because: string): void {
    clock.end(because);
    this.forget(stringId);
  }

  private leave(stringId: string, listener: LiveListener): void {
    const clock = this.clocks.get(stringId);
    clock?.listeners.delete(listener);
    if (clock?.listeners.size !== 0) return;
    clock.close();
    this.forget(stringId);
  }

  private forget(stringId: string): void {
    this.clocks.delete(stringId);
    this.endings.get(stringId)?.();
    this.endings.delete(stringId);
  }

  /** Ends the streams of those who may not listen any more. */
  private async checkAccess(): Promise<void> {
    this.accessSoon = null;
    const asked = new Map<string, Promise<boolean>>();
    const holds = (token: SentToken): Promise<boolean> => {
      const key = JSON.stringify(token);
      const answer = asked.get(key) ?? this.access.holds(token, 'questions:ask');
      asked.set(key, answer);
      return answer;
    };
    const listeners = [...this.clocks.values()].flatMap((clock) => [...clock.listeners]);
    await Promise.all(listeners.map(async ({ stream, token }) => {
      try {
        if (!(await holds(token))) stream.finish(endedText('You are not signed in any more, or may not ask this any more.'));
      } catch (error) {
        // Not known: who revokes access is believed as soon as it can be asked.
        this.logger.warn(`whether a listener still may listen could not be asked: ${String(error)}`);
      }
    }));
  }
}
