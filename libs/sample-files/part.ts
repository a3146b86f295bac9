import type { ReadingRules } from './reading-rules.js';

/** Readings of a counter: positions are readings × 10^decimals. */
export interface CounterPosition {
  readonly name: string;
  readonly kind: 'counter';
  /** 0 to 6. */
  readonly decimals: number;
}

/** Instants: positions are microseconds since 1970 UTC. */
export interface TimePosition {
  readonly name: string;
  readonly kind: 'time';
}

export type PositionColumn = CounterPosition | TimePosition;

export interface ValueColumn {
  readonly name: string;
  readonly rules: ReadingRules;
}

export interface PartLimits {
  /** Bytes after decompression. */
  readonly maxDecodedBytes: number;
  readonly maxRows: number;
}

export const PART_LIMITS: PartLimits = { maxDecodedBytes: 16 * 1024 * 1024, maxRows: 1_048_576 };

export type PartFormat = 'arrow' | 'csv' | 'ndjson';
export type PartEncoding = 'identity' | 'gzip' | 'deflate' | 'br' | 'zstd';
export type Direction = 'forward' | 'backward';

/** What a part is said to be. */
export interface PartShape {
  readonly format: PartFormat;
  readonly encoding: PartEncoding;
  readonly position: PositionColumn;
  /** At least one; the part has these columns and the position, in whatever order, and no others. */
  readonly columns: readonly ValueColumn[];
  readonly direction: Direction;
  readonly limits?: Partial<PartLimits>;
}

export interface DecodedColumn {
  readonly name: string;
  /** As in `Samples` of libs/signals: every bit kept, `NO_VALUE_BITS` where nothing was sent. */
  readonly values: Float32Array;
  /** One of `STATUS` of libs/signals each. */
  readonly statuses: Uint8Array;
}

/** All arrays have one element a row, and memory of their own. */
export interface DecodedPart {
  /** Whole numbers within ±2^52, never −0, which do not go against the direction of the part. */
  readonly positions: Float64Array;
  /** In the order of the shape. */
  readonly columns: readonly DecodedColumn[];
  /**
   * Values that could not be kept as they were sent: a double or a whole number that is not a float32, a decimal text of which
   * a float32 does not carry all digits. They are kept as the nearest float32.
   */
  readonly narrowed: number;
}

/** What the readers of the formats are given: the shape with its limits filled in. */
export interface PartPlan {
  readonly position: PositionColumn;
  readonly columns: readonly ValueColumn[];
  readonly limits: PartLimits;
}

/** What they give: statuses are `read`, but where the part itself says otherwise (nothing sent, a bound). */
export interface RawPart {
  readonly positions: Float64Array;
  readonly columns: readonly { readonly values: Float32Array; readonly statuses: Uint8Array }[];
  readonly narrowed: number;
}
