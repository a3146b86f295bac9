import type { Summary } from '#libs/signals';

/** A block of one channel as it is stored, and what goes into the pyramid of it. */
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
  /** Its cells of level 1, with addresses within the block. */
  readonly cells: readonly (Summary | null)[];
}

/** A part read and packed: nothing in it depends on what is stored already. */
export interface PackedPart {
  readonly samples: number;
  /** Values that came in double precision and are none of single precision. */
  readonly narrowed: number;
  readonly firstPosition: number;
  readonly lastPosition: number;
  /** The blocks of each channel, in the order of the upload's columns. */
  readonly columns: readonly (readonly PackedBlock[])[];
  /** The bytes of all blocks, column after column. */
  readonly bodies: Uint8Array<ArrayBuffer>;
}
