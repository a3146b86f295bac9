import { Refused } from '../http/problem.js';

interface Waiting {
  readonly bytes: number;
  readonly go: () => void;
}

/** Bytes of memory that pieces of work hold between them: each waits for its share, first come first served. */
export class ByteBudget {
  private free: number;
  private readonly waiting: Waiting[] = [];

  constructor(
    private readonly total: number,
    private readonly mostWaiting: number,
    /** How long a share is waited for; shorter than a connection may stand still, so that whoever waits gets an answer. */
    private readonly patienceMs: number,
    /** What there is too much of, as a sentence. */
    private readonly overrun: string,
  ) {
    this.free = total;
  }

  /** Runs `work` once so many bytes (more than there are in all count as all) are free. Refuses with 503 when too many wait, or for too long. */
  async run<T>(bytes: number, work: () => Promise<T>): Promise<T> {
    const share = Math.min(bytes, this.total);
    if (this.waiting.length === 0 && share <= this.free) this.free -= share;
    else await this.turn(share);
    try {
      return await work();
    } finally {
      this.free += share;
      this.letIn();
    }
  }

  private turn(bytes: number): Promise<void> {
    if (this.waiting.length >= this.mostWaiting) return Promise.reject(this.refusal());
    return new Promise((resolve, reject) => {
      const mine: Waiting = { bytes, go: () => { clearTimeout(timer); resolve(); } };
      const timer = setTimeout(() => {
        this.waiting.splice(this.waiting.indexOf(mine), 1);
        reject(this.refusal());
        // Smaller ones behind it may have room.
        this.letIn();
      }, this.patienceMs);
      this.waiting.push(mine);
    });
  }

  private letIn(): void {
    for (let [next] = this.waiting; next !== undefined && next.bytes <= this.free; [next] = this.waiting) {
      this.waiting.shift();
      this.free -= next.bytes;
      next.go();
    }
  }

  private refusal(): Refused {
    return new Refused(503, 'busy', this.overrun, [], { retryAfterSeconds: 2 });
  }
}
