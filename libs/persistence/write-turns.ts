import type { DataSource } from 'typeorm';

/** Of the connections, the part that writes leave to reads, and at least one. Our own choice. */
const LEFT_TO_READS = 0.3;
/** As long as a connection is waited for. */
const PATIENCE_MS = 5000;

/** Too many writes waited for their turn. */
export class NoTurn extends Error {
  constructor() {
    super('no turn to write came within the time that is waited');
  }
}

interface Waiting {
  readonly go: () => void;
  readonly timer: NodeJS.Timeout;
}

/**
 * Turns to write. A write holds its connection while it waits for a lock, and who holds the lock may have to read first:
 * were all connections taken by those who wait, neither would go on. So writes leave some of the pool to reads.
 */
export class WriteTurns {
  private running = 0;
  private readonly waiting: Waiting[] = [];

  constructor(private readonly atOnce: number, private readonly patienceMs: number = PATIENCE_MS) {}

  /** Those of a pool. */
  static of(dataSource: DataSource): WriteTurns {
    const known = TURNS.get(dataSource);
    if (known !== undefined) return known;
    const { poolSize = 10 } = dataSource.options as { poolSize?: number };
    const turns = new WriteTurns(Math.max(1, Math.floor(poolSize * (1 - LEFT_TO_READS))));
    TURNS.set(dataSource, turns);
    return turns;
  }

  /** Runs `work` in its turn, first come first served. Throws NoTurn when none comes in time. */
  async run<T>(work: () => Promise<T>): Promise<T> {
    if (this.running < this.atOnce) this.running += 1;
    else await this.turn();
    try {
      return await work();
    } finally {
      // The turn goes straight to the next in line, so that no newcomer slips in between.
      const next = this.waiting.shift();
      if (next === undefined) this.running -= 1;
      else {
        clearTimeout(next.timer);
        next.go();
      }
    }
  }

  private turn(): Promise<void> {
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => {
        this.waiting.splice(this.waiting.indexOf(mine), 1);
        reject(new NoTurn());
      }, this.patienceMs);
      const mine = { go: resolve, timer };
      this.waiting.push(mine);
    });
  }
}

const TURNS = new WeakMap<DataSource, WriteTurns>();
