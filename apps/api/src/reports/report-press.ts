import { Injectable, type OnModuleDestroy } from '@nestjs/common';
import type { Worker } from 'node:worker_threads';
import { ReportTooLongError } from '#libs/reports';
import { Refused } from '../http/problem.js';
import { startThread } from '../threads/thread.js';
import { ThreadPool, type PoolLimits } from '../threads/thread-pool.js';
import type { DrawOrder } from './draw-order.js';

/** Our own choice: a report takes about half a second; one of 400 pages, the most there is, a few. */
const LIMITS: PoolLimits = { threads: 2, mostWaiting: 30, orderMs: 20_000 };
const WORDS = { busy: 'Too many reports are being drawn just now.', code: 'report-not-drawn', notDone: 'The report could not be drawn' };

const drawingThread = (): Worker => startThread(import.meta.url, 'draw-report');

/** Draws reports in threads of its own, so that the API goes on answering. */
@Injectable()
export class ReportPress implements OnModuleDestroy {
  private pool = new ThreadPool<DrawOrder, Uint8Array>(LIMITS, WORDS, drawingThread);

  /** A press with other limits or threads. */
  static with(limits: Partial<PoolLimits>, startsThread: () => Worker = drawingThread): ReportPress {
    const press = new ReportPress();
    press.pool = new ThreadPool({ ...LIMITS, ...limits }, WORDS, startsThread);
    return press;
  }

  /**
   * The report as a PDF. Refuses with 422 when it is too long, with 503 when too many wait or it takes too long or too
   * much memory.
   */
  async draw(order: DrawOrder): Promise<Uint8Array> {
    try {
      return await this.pool.run(order);
    } catch (error) {
      if (error instanceof Error && error.name === ReportTooLongError.name) throw new Refused(422, 'report-too-long', `${error.message}.`);
      throw error;
    }
  }

  /** Ends the threads. What still waits or is being drawn is refused. */
  onModuleDestroy(): Promise<void> {
    return this.pool.close();
  }
}
