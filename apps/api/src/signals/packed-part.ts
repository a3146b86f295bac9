import type { CellPage } from '#libs/signals';

/** A block of one channel as it is stored. */
export interface PackedBlock {
  readonly samples: number;
  readonly firstPosition: number;
  readonly lastPosition: number;
  /** Of the part's samples, the index of its first one. */
  readonly firstIndex: number;
  /** Samples that say nothing of the pipe. */
  readonly unread: number;
  /** How many bytes it takes of the part's bodies, one after another. */
  readonly bytes: number;
}

/** Consecutive cells of one level above the blocks of one channel, as they are stored but for their number. */
export interface PackedPage {
  /** 1 up to the level of blocks. */
  readonly level: number;
  /** Of the part's cells of this level, the index of its first one. */
  readonly firstIndex: number;
  readonly cells: number;
  /** Of them without samples. */
  readonly empty: number;
  readonly firstPosition: number;
  readonly lastPosition: number;
  /** How many bytes it takes of the part's cells, one after another. */
  readonly bytes: number;
}

export interface PackedColumn {
  readonly blocks: readonly PackedBlock[];
  /** Every cell that lies within one block. */
  readonly pages: readonly PackedPage[];
}

/** A part read and packed: nothing in it depends on what is stored already. It passes from thread to thread as two pieces of memory. */
export interface PackedPart {
  readonly samples: number;
  /** Values that came in double precision and are none of single precision. */
  readonly narrowed: number;
  readonly firstPosition: number;
  readonly lastPosition: number;
  /** In the order of the upload's columns. */
  readonly columns: readonly PackedColumn[];
  /** The bytes of all blocks, column after column. */
  readonly bodies: Uint8Array<ArrayBuffer>;
  /** The bytes of the cells of all pages, column after column. */
  readonly cells: Uint8Array<ArrayBuffer>;
}

/** What is said of a page beside its bytes. */
export function aboutPage({ level, cells }: CellPage): Omit<PackedPage, 'firstIndex' | 'bytes'> {
  const filled = cells.filter((cell) => cell !== null);
  return { level, cells: cells.length, empty: cells.length - filled.length, firstPosition: filled[0]?.firstPosition ?? 0, lastPosition: filled.at(-1)?.lastPosition ?? 0 };
}
