import { LRUCache } from 'lru-cache';
import type { ChannelDirectory } from './channel-directory.js';

/** Directories of channels by their keys; which grow while they are kept, and of which those unasked for longest go once all have too many blocks. */
export class KeptDirectories {
  private readonly kept: LRUCache<string, ChannelDirectory>;

  constructor(mostBlocks: number) {
    this.kept = new LRUCache({ maxSize: mostBlocks, sizeCalculation: ({ blocks }) => blocks + 1 });
  }

  get(key: string): ChannelDirectory | undefined {
    return this.kept.get(key);
  }

  /** Keeps one as large as it is now. */
  keep(key: string, directory: ChannelDirectory): void {
    // The same thing set again under its key would keep the size that it had.
    this.kept.delete(key);
    this.kept.set(key, directory);
  }

  forgetAll(startOfKey: string): void {
    for (const key of this.kept.keys()) if (key.startsWith(startOfKey)) this.kept.delete(key);
  }
}
