const MINUTE_MS = 60_000;
const MOST_KEPT = 100_000;

/** Counts events in fixed minutes, by key. Counts live in this process only. */
export class RateLimiter {
  private counts = new Map<string, number>();
  private minute = -1;

  constructor(private readonly mostPerMinute: number) {}

  /** Counts one more for `key` at `nowMs`. True while the limit is kept. */
  take(key: string, nowMs: number): boolean {
    this.turn(nowMs);
    const count = (this.counts.get(key) ?? 0) + 1;
    this.counts.set(key, count);
    return count <= this.mostPerMinute;
  }

  /** True when the limit is used up, without counting. */
  isSpent(key: string, nowMs: number): boolean {
    this.turn(nowMs);
    return (this.counts.get(key) ?? 0) >= this.mostPerMinute;
  }

  /** Seconds, at least one, until counting starts anew. */
  static secondsLeft(nowMs: number): number {
    return Math.max(1, Math.ceil((MINUTE_MS - (nowMs % MINUTE_MS)) / 1000));
  }

  private turn(nowMs: number): void {
    const minute = Math.floor(nowMs / MINUTE_MS);
    if (minute === this.minute && this.counts.size < MOST_KEPT) return;
    this.minute = minute;
    this.counts = new Map();
  }
}
