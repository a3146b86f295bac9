/** An upload as the blocks that came with it rest on it. */
export interface DirectoryUpload {
  readonly id: string;
  readonly runId: string;
  readonly position: 'counter' | 'time';
  /** A counter's reading is the position / 10^decimals. */
  readonly decimals: number;
}

/** One block without its samples. */
export interface DirectoryBlock {
  readonly samples: number;
  readonly firstPosition: number;
  readonly lastPosition: number;
  readonly fromUs: number;
  readonly toUs: number;
  /** Samples that say nothing of the pipe. */
  readonly unread: number;
  readonly knownUs: number;
  readonly upload: DirectoryUpload;
}

const FIELDS = ['samples', 'firstPosition', 'lastPosition', 'fromUs', 'toUs', 'unread', 'knownUs', 'upload'] as const;
const WIDTH = FIELDS.length;
const FIRST_ROOM = 256;

/**
 * Where the blocks of a channel lie, by their numbers from 0 on: 64 bytes a block, so that of 100 km at a sample a millimetre
 * it takes 1.6 MB. Blocks are only added.
 */
export class ChannelDirectory {
  private figures = new Float64Array(FIRST_ROOM * WIDTH);
  private count = 0;
  private readonly uploads: DirectoryUpload[] = [];
  private readonly uploadIndex = new Map<string, number>();

  get blocks(): number {
    return this.count;
  }

  hasUpload(id: string): boolean {
    return this.uploadIndex.has(id);
  }

  /** Makes an upload known before its first block. */
  know(upload: DirectoryUpload): void {
    this.uploadIndex.set(upload.id, this.uploads.push(upload) - 1);
  }

  /** Adds the block with the next number. Throws RangeError when its upload is not known. */
  add(block: Omit<DirectoryBlock, 'upload'> & { readonly uploadId: string }): void {
    const upload = this.uploadIndex.get(block.uploadId);
    if (upload === undefined) throw new RangeError(`upload ${block.uploadId} is not known here`);
    if ((this.count + 1) * WIDTH > this.figures.length) {
      const larger = new Float64Array(this.figures.length * 2);
      larger.set(this.figures);
      this.figures = larger;
    }
    const at = this.count * WIDTH;
    const { samples, firstPosition, lastPosition, fromUs, toUs, unread, knownUs } = block;
    this.figures.set([samples, firstPosition, lastPosition, fromUs, toUs, unread, knownUs, upload], at);
    this.count += 1;
  }

  /** The block with this number. Throws RangeError when there is none. */
  block(no: number): DirectoryBlock {
    const at = no * WIDTH;
    const upload = this.uploads[this.figures[at + 7] ?? -1];
    if (no < 0 || no >= this.count || upload === undefined) throw new RangeError(`there is no block ${no} of ${this.count}`);
    const [samples, firstPosition, lastPosition, fromUs, toUs, unread, knownUs] = this.figures.subarray(at, at + WIDTH) as unknown as
      [number, number, number, number, number, number, number];
    return { samples, firstPosition, lastPosition, fromUs, toUs, unread, knownUs, upload };
  }

  /** How many blocks from the first on were known at an instant: blocks become known in the order of their numbers. */
  knownBy(atUs: number | null): number {
    if (atUs === null) return this.count;
    let [low, high] = [0, this.count];
    while (low < high) {
      const middle = (low + high) >>> 1;
      if ((this.figures[middle * WIDTH + 6] as number) <= atUs) low = middle + 1;
      else high = middle;
    }
    return low;
  }
}
