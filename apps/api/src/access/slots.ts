import { Refused } from '../http/problem.js';

/** Lets at most so many pieces of work run at once and a bounded number wait, first come first served. */
export class Slots {
  private running = 0;
  private readonly waiting: (() => void)[] = [];

  constructor(
    private readonly atOnce: number,
    private readonly mostWaiting: number,
    /** What there is too much of, as a sentence. */
    private readonly overrun: string,
  ) {}

  /** Runs `work` when a slot is free. Refuses with 503 when too many wait already. */
  async run<T>(work: () => Promise<T>): Promise<T> {
    if (this.running >= this.atOnce) {
      if (this.waiting.length >= this.mostWaiting) throw new Refused(503, 'busy', this.overrun, [], { retryAfterSeconds: 2 });
      await new Promise<void>((resolve) => this.waiting.push(resolve));
    } else {
      this.running += 1;
    }
    try {
      return await work();
    } finally {
      // The slot goes straight to the next in line, so that no newcomer slips in between.
      const next = this.waiting.shift();
      if (next === undefined) this.running -= 1;
      else next();
    }
  }
}
