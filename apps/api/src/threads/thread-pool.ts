import type { Worker } from 'node:worker_threads';
import { Refused } from '../http/problem.js';
import type { ThreadAnswer, ThreadError } from './thread-answer.js';

export interface PoolLimits {
  readonly threads: number;
  readonly mostWaiting: number;
  readonly orderMs: number;
}

/** How a pool says what it does not do. */
export interface PoolWords {
  /** Too many orders wait, as a sentence. */
  readonly busy: string;
  /** The code of a refusal when an order was not done. */
  readonly code: string;
  /** What was not done; completed by a colon and why. */
  readonly notDone: string;
}

interface Waiting<O, R> {
  readonly order: O;
  readonly transferred: readonly ArrayBuffer[];
  readonly resolve: (answer: R) => void;
  readonly reject: (reason: Error) => void;
}

/** Does orders in threads of its own, so that the API goes on answering. A thread starts when it is first needed. */
export class ThreadPool<O, R> {
  private readonly waiting: Waiting<O, R>[] = [];
  private readonly idle: Worker[] = [];
  private readonly busy = new Set<Worker>();
  private closed = false;

  constructor(private readonly limits: PoolLimits, private readonly words: PoolWords, private readonly startThread: () => Worker) {}

  /**
   * What a thread makes of the order; `transferred` passes to it. Throws what the thread threw, by name, message and members;
   * refuses with 503 when too many wait, or it takes too long or too much memory.
   */
  run(order: O, transferred: readonly ArrayBuffer[] = []): Promise<R> {
    return new Promise((resolve, reject) => {
      if (this.closed || this.waiting.length >= this.limits.mostWaiting) {
        reject(new Refused(503, 'busy', this.words.busy, [], { retryAfterSeconds: 5 }));
        return;
      }
      this.waiting.push({ order, transferred, resolve, reject });
      this.next();
    });
  }

  /** Ends the threads. What still waits or is under way is refused. */
  async close(): Promise<void> {
    this.closed = true;
    for (const { reject } of this.waiting.splice(0)) reject(this.notDone('the program is being stopped'));
    await Promise.all([...this.idle, ...this.busy].map((thread) => thread.terminate()));
  }

  private next(): void {
    if (this.waiting.length === 0 || this.closed) return;
    const thread = this.idle.pop() ?? (this.busy.size < this.limits.threads ? this.newThread() : null);
    const first = thread === null ? undefined : this.waiting.shift();
    if (thread === null || first === undefined) return;
    this.busy.add(thread);
    void this.doIn(thread, first)
      .then(first.resolve, first.reject)
      .finally(() => {
        this.next();
      });
  }

  private newThread(): Worker {
    const thread = this.startThread();
    // Also hears of a thread that fails between two orders, which would otherwise end the program.
    thread.on('error', () => { this.forget(thread); });
    thread.on('exit', () => { this.forget(thread); });
    return thread;
  }

  private forget(thread: Worker): void {
    const index = this.idle.indexOf(thread);
    if (index >= 0) this.idle.splice(index, 1);
  }

  /** A thread that failed to answer is ended; the next order gets a new one. */
  private async doIn(thread: Worker, waiting: Waiting<O, R>): Promise<R> {
    try {
      const answer = await this.answerOf(thread, waiting);
      this.idle.push(thread);
      if ('error' in answer) throw thrown(answer.error);
      return answer.done;
    } catch (error) {
      if (!this.idle.includes(thread)) void thread.terminate();
      throw error;
    } finally {
      this.busy.delete(thread);
    }
  }

  private answerOf(thread: Worker, { order, transferred }: Waiting<O, R>): Promise<ThreadAnswer<R>> {
    const { orderMs } = this.limits;
    return new Promise((resolve, reject) => {
      const end = (): void => {
        clearTimeout(timer);
        thread.off('message', answered).off('error', failed).off('exit', ended);
      };
      const answered = (answer: ThreadAnswer<R>): void => { end(); resolve(answer); };
      const failed = (error: unknown): void => { end(); reject(this.failure(error)); };
      const ended = (): void => { end(); reject(this.notDone('its thread ended')); };
      const timer = setTimeout(() => { end(); reject(this.notDone(`it took more than ${orderMs / 1000} s`)); }, orderMs);
      thread.on('message', answered).on('error', failed).on('exit', ended);
      thread.postMessage(order, [...transferred]);
    });
  }

  private failure(error: unknown): Error {
    const { code } = error as { code?: string };
    if (code === 'ERR_WORKER_OUT_OF_MEMORY') return this.notDone('it needs too much memory');
    return error instanceof Error ? error : new Error(String(error));
  }

  private notDone(why: string): Refused {
    return new Refused(503, this.words.code, `${this.words.notDone}: ${why}.`, [], { retryAfterSeconds: 5 });
  }
}

const thrown = ({ message, ...members }: ThreadError): Error => Object.assign(new Error(message), members);
