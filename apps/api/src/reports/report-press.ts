import { Injectable, type OnModuleDestroy } from '@nestjs/common';
import type { Worker } from 'node:worker_threads';
import { ReportTooLongError } from '#libs/reports';
import { Refused } from '../http/problem.js';
import type { DrawAnswer, DrawOrder } from './draw-order.js';
import { drawingThread } from './drawing-thread.js';

export interface PressLimits {
  readonly threads: number;
  readonly mostWaiting: number;
  readonly drawMs: number;
}

/** Our own choice: a report takes about half a second; one of 400 pages, the most there is, a few. */
const LIMITS: PressLimits = { threads: 2, mostWaiting: 30, drawMs: 20_000 };

interface Waiting {
  readonly order: DrawOrder;
  readonly resolve: (bytes: Uint8Array) => void;
  readonly reject: (reason: Error) => void;
}

/** Draws reports in threads of its own, so that the API goes on answering. A thread starts when it is first needed. */
@Injectable()
export class ReportPress implements OnModuleDestroy {
  private readonly waiting: Waiting[] = [];
  private readonly idle: Worker[] = [];
  private readonly busy = new Set<Worker>();
  private limits = LIMITS;
  private startThread: () => Worker = drawingThread;
  private closed = false;

  /** A press with other limits or threads. */
  static with(limits: Partial<PressLimits>, startThread: () => Worker = drawingThread): ReportPress {
    const press = new ReportPress();
    press.limits = { ...LIMITS, ...limits };
    press.startThread = startThread;
    return press;
  }

  /**
   * The report as a PDF. Refuses with 422 when it is too long, with 503 when too many wait or it takes too long or too
   * much memory.
   */
  draw(order: DrawOrder): Promise<Uint8Array> {
    return new Promise((resolve, reject) => {
      if (this.closed || this.waiting.length >= this.limits.mostWaiting) {
        reject(new Refused(503, 'busy', 'Too many reports are being drawn just now.', [], { retryAfterSeconds: 5 }));
        return;
      }
      this.waiting.push({ order, resolve, reject });
      this.next();
    });
  }

  /** Ends the threads. What still waits or is being drawn is refused. */
  async onModuleDestroy(): Promise<void> {
    this.closed = true;
    for (const { reject } of this.waiting.splice(0)) reject(notDrawn('the program is being stopped'));
    await Promise.all([...this.idle, ...this.busy].map((thread) => thread.terminate()));
  }

  private next(): void {
    if (this.waiting.length === 0 || this.closed) return;
    const thread = this.idle.pop() ?? (this.busy.size < this.limits.threads ? this.newThread() : null);
    const first = thread === null ? undefined : this.waiting.shift();
    if (thread === null || first === undefined) return;
    this.busy.add(thread);
    void this.drawIn(thread, first.order)
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
  private async drawIn(thread: Worker, order: DrawOrder): Promise<Uint8Array> {
    try {
      const answer = await answerOf(thread, order, this.limits.drawMs);
      this.idle.push(thread);
      return bytesOf(answer);
    } catch (error) {
      if (!this.idle.includes(thread)) void thread.terminate();
      throw error;
    } finally {
      this.busy.delete(thread);
    }
  }
}

function answerOf(thread: Worker, order: DrawOrder, limitMs: number): Promise<DrawAnswer> {
  return new Promise((resolve, reject) => {
    const end = (): void => {
      clearTimeout(timer);
      thread.off('message', answered).off('error', failed).off('exit', ended);
    };
    const answered = (answer: DrawAnswer): void => { end(); resolve(answer); };
    const failed = (error: unknown): void => { end(); reject(failure(error)); };
    const ended = (): void => { end(); reject(notDrawn('its thread ended')); };
    const timer = setTimeout(() => { end(); reject(notDrawn(`it took more than ${limitMs / 1000} s`)); }, limitMs);
    thread.on('message', answered).on('error', failed).on('exit', ended);
    thread.postMessage(order);
  });
}

function bytesOf(answer: DrawAnswer): Uint8Array {
  if ('bytes' in answer) return answer.bytes;
  const { name, message, stack } = answer.error;
  if (name === ReportTooLongError.name) throw new Refused(422, 'report-too-long', `${message}.`);
  throw Object.assign(new Error(message), { name, stack });
}

function failure(error: unknown): Error {
  const { code } = error as { code?: string };
  if (code === 'ERR_WORKER_OUT_OF_MEMORY') return notDrawn('it needs too much memory');
  return error instanceof Error ? error : new Error(String(error));
}

const notDrawn = (why: string): Refused =>
  new Refused(503, 'report-not-drawn', `The report could not be drawn: ${why}.`, [], { retryAfterSeconds: 5 });
