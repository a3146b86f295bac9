import { Readable } from 'node:stream';

/**
 * An event stream of which only the latest text counts: what a slow reader has not taken yet is replaced by what comes after it,
 * so that it waits for one text at most, however long it takes.
 */
export class LatestStream extends Readable {
  private waiting: string | null = null;
  private isWanted = false;
  private isLast = false;
  private waitingSince: number | null = null;

  constructor() {
    // One chunk, of whatever length, is taken ahead.
    super({ highWaterMark: 1 });
  }

  /** Milliseconds that a text has been waiting for the reader, by the process's monotonic clock; 0 when none does. */
  get waitedMs(): number {
    return this.waitingSince === null ? 0 : performance.now() - this.waitingSince;
  }

  /** Sends a text in place of any that waits. */
  offer(text: string): void {
    if (this.isLast) return;
    this.waiting = text;
    this.waitingSince ??= performance.now();
    this.flush();
  }

  /** Sends a text that says nothing, where nothing waits. */
  keepAlive(text: string): void {
    if (this.waiting === null) this.offer(text);
  }

  /** Sends a last text, after the one that waits, and ends. */
  finish(text: string): void {
    if (this.isLast) return;
    this.offer(`${this.waiting ?? ''}${text}`);
    this.isLast = true;
    this.flush();
  }

  override _read(): void {
    this.isWanted = true;
    this.flush();
  }

  private flush(): void {
    if (this.isWanted && this.waiting !== null) {
      const text = this.waiting;
      this.waiting = null;
      this.waitingSince = null;
      this.isWanted = false;
      this.push(text);
    }
    if (this.isLast && this.waiting === null) this.push(null);
  }
}
