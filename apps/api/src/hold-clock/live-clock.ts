import type { SentToken } from '../access/token.js';
import { Refused } from '../http/problem.js';
import { commentText, eventText } from './event-stream.js';
import type { HoldClockAnswer } from './hold-clock.dto.js';
import { LatestStream } from './latest-stream.js';

/** News that come within so long of each other are answered together, ms. */
const TOGETHER_MS = 50;
/** The clock moves on and is told anew though nobody writes; also what a listener hears at least, ms. */
const EVERY_MS = 15_000;
/** How soon it is tried again when it could not be worked out, ms. */
const AGAIN_MS = 1000;
/** A listener that takes nothing for so long is gone, ms. */
const LONGEST_WAIT_MS = 45_000;
/** A little past the second at which a reading gets too old. */
const JUST_AFTER_MS = 50;

export interface LiveListener {
  readonly stream: LatestStream;
  readonly token: SentToken;
}

/** The clock of one string for all who listen to it: worked out once for each piece of news, or once for a burst of them. */
export class LiveClock {
  readonly listeners = new Set<LiveListener>();
  private latest: string | null = null;
  private isWorking = false;
  /** Pieces of news so far. */
  private heard = 0;
  private isOver = false;
  private next: NodeJS.Timeout | null = null;
  private later: NodeJS.Timeout | null = null;
  private readonly beat: NodeJS.Timeout;

  /** @param workOut the clock as it stands now */
  constructor(private readonly workOut: () => Promise<HoldClockAnswer>) {
    this.beat = setInterval(() => { this.keepAlive(); }, EVERY_MS).unref();
    this.changed();
  }

  /** What is told first is the whole state: nothing that was told to nobody is missing from it. */
  add(listener: LiveListener): void {
    this.listeners.add(listener);
    if (this.latest !== null) listener.stream.offer(this.latest);
  }

  /** Something was written, or may have been. */
  changed(): void {
    this.heard += 1;
    this.tellSoon();
  }

  /** Tells all who listen why it ends, and ends. */
  end(because: string): void {
    for (const { stream } of this.listeners) stream.finish(endedText(because));
    this.close();
  }

  close(): void {
    this.isOver = true;
    clearInterval(this.beat);
    for (const timer of [this.next, this.later]) if (timer !== null) clearTimeout(timer);
  }

  private tellSoon(): void {
    if (this.isWorking || this.isOver) return;
    this.next ??= setTimeout(() => { void this.tell(); }, TOGETHER_MS).unref();
  }

  private keepAlive(): void {
    for (const { stream } of this.listeners) {
      if (stream.waitedMs > LONGEST_WAIT_MS) stream.destroy();
      else stream.keepAlive(commentText('the line to the listener stands'));
    }
  }

  private async tell(): Promise<void> {
    this.next = null;
    this.isWorking = true;
    const { heard } = this;
    try {
      const clock = await this.workOut();
      this.offer(clockText(clock));
      this.tellAgainIn(untilStaleMs(clock));
    } catch (error) {
      if (error instanceof Refused && error.status < 500) {
        this.end(error.message);
        return;
      }
      this.offer(eventText({ event: 'unavailable', data: { because: 'The clock could not be worked out just now: what was told before gets old. It is tried again each second.' } }));
      this.tellAgainIn(AGAIN_MS);
    } finally {
      this.isWorking = false;
    }
    if (this.heard !== heard) this.tellSoon();
  }

  private offer(text: string): void {
    if (this.isOver) return;
    this.latest = text;
    for (const { stream } of this.listeners) stream.offer(text);
  }

  private tellAgainIn(ms: number): void {
    if (this.later !== null) clearTimeout(this.later);
    if (!this.isOver) this.later = setTimeout(() => { this.changed(); }, ms).unref();
  }
}

export const endedText = (because: string): string => eventText({ event: 'ended', data: { because } });

/** That counter data are stale is an event of its own, before the state that says so too. */
function clockText(clock: HoldClockAnswer): string {
  const { at, line: { state, because, lastReading, staleAfterS } } = clock;
  const stale = state === 'stale' ? eventText({ event: 'stale', data: { at, because, lastReading, staleAfterS } }) : '';
  return `${stale}${eventText({ event: 'clock', id: at, data: clock })}`;
}

/** The earlier of the next turn and the moment at which the last reading gets too old. */
function untilStaleMs({ line: { state, readingAgeS, staleAfterS } }: HoldClockAnswer): number {
  if (state === 'stale' || readingAgeS === null) return EVERY_MS;
  return Math.min(EVERY_MS, Math.max(0, staleAfterS - readingAgeS) * 1000 + JUST_AFTER_MS);
}
