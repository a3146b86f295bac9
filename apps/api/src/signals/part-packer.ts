import { Injectable, type OnModuleDestroy } from '@nestjs/common';
import { startThread } from '../threads/thread.js';
import { ThreadPool, type PoolLimits } from '../threads/thread-pool.js';
import type { PackedPart } from './packed-part.js';
import type { PackOrder } from './pack-part.js';

/** Our own choice: one core reads and packs while another one stores; a second thread would take more memory and was no faster. A part of 16 MiB of text takes a few seconds. */
const LIMITS: PoolLimits = { threads: 1, mostWaiting: 20, orderMs: 60_000 };
/** Little of what packing makes lives on: looked at sooner, it is gone as well, and the thread holds less. */
const YOUNG_MB = 8;
const WORDS = { busy: 'Too many parts are being read just now.', code: 'part-not-read', notDone: 'The part could not be read' };

/** Reads and packs parts in threads of its own, so that the API goes on answering. */
@Injectable()
export class PartPacker implements OnModuleDestroy {
  private readonly pool = new ThreadPool<PackOrder, PackedPart>(LIMITS, WORDS, () => startThread(import.meta.url, 'pack-part', YOUNG_MB));

  /** The part, packed; the order's bytes are gone afterwards. Throws what `packPart` throws, by name; refuses with 503 when too many wait. */
  pack(order: PackOrder): Promise<PackedPart> {
    return this.pool.run(order, [order.bytes.buffer]);
  }

  onModuleDestroy(): Promise<void> {
    return this.pool.close();
  }
}
