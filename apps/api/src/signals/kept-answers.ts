import { LRUCache } from 'lru-cache';

interface Kept<T> {
  readonly stamp: string;
  readonly answer: T;
}

/** Answers by a key, each good while its stamp stays the same. Those unasked for longest go once all together are too large. */
export class KeptAnswers<T extends object> {
  private readonly kept: LRUCache<string, Kept<T>>;

  constructor(mostInAll: number, sizeOf: (answer: T) => number) {
    this.kept = new LRUCache({ maxSize: mostInAll, sizeCalculation: ({ answer }) => sizeOf(answer) + 1 });
  }

  /** What is kept under this stamp, or what `load` gives, which is kept. The stamp was seen before that: the answer may be newer than it, and never older. */
  async of(key: string, stamp: string, load: () => Promise<T>): Promise<T> {
    const kept = this.kept.get(key);
    if (kept?.stamp === stamp) return kept.answer;
    const answer = await load();
    this.kept.set(key, { stamp, answer });
    return answer;
  }
}
