const { trunc } = Math;

/** At most so many samples make a block. */
export const BLOCK_SAMPLES = 4_096;

/** What a sample is worth, as it is stored: one small number a sample. */
export const STATUS = {
  /** A value as the instrument read it. */
  read: 0,
  /** Nothing was read: a dropout, a lost coupling. It has no value, and missing is not zero. */
  missing: 1,
  /** A censored reading such as "≥ 100": the value is the bound, the true one is at or above it. */
  saturatedHigh: 2,
  /** The same at the other end: the true value is at or below the bound. */
  saturatedLow: 3,
  /** One of a run of identical readings that look stuck; the value is kept, and enters no figure. */
  suspectStuck: 4,
  /** Read, but beyond what can be; the value is kept, and enters no figure. */
  implausible: 5,
} as const;

export type StatusName = keyof typeof STATUS;

/** The names in the order of their numbers. */
export const STATUS_NAMES = Object.keys(STATUS) as readonly StatusName[];

/**
 * Consecutive samples of one channel, in the order in which they were read; the three arrays are equally long.
 * The place of a sample in its channel is its *address*: number of its block × 4,096 + index within the block.
 */
export interface Samples extends Readings {
  /**
   * Where or when each sample was read, as read: whole numbers of one unit (counter steps, millimetres, microseconds) up to
   * 2^52 either way. Where the pipe moves back they fall; while it stands still they stay.
   */
  readonly positions: Float64Array;
}

/** What was read of one channel, without where; the arrays are equally long. */
export interface Readings {
  /**
   * Values in the unit of the channel. Every bit is kept, with whatever status. In the place of a missing one stands what
   * the device sent instead (0, −999, a NaN), or `NO_VALUE_BITS` when it sent nothing; it never enters a figure.
   */
  readonly values: Float32Array;
  /** One of `STATUS` each. */
  readonly statuses: Uint8Array;
}

/** The bits that stand for "no value": the quiet NaN without payload of IEEE 754 binary32. */
export const NO_VALUE_BITS = 0x7fc00000;

/** Positions reach so far either way, so that the difference of any two is still exact. */
export const MAX_POSITION = 2 ** 52;

/** The same memory as whole numbers: a NaN that passes through a number may lose its payload. */
export const bitsOf = (values: Float32Array): Uint32Array => new Uint32Array(values.buffer, values.byteOffset, values.length);

/** A view of the samples from index `from` up to, and without, `to`; it shares their memory. */
export const part = ({ positions, values, statuses }: Samples, from: number, to: number): Samples => ({
  positions: positions.subarray(from, to), values: values.subarray(from, to), statuses: statuses.subarray(from, to),
});

/** Throws RangeError when these readings are not as many as the positions of one block are, `count`. */
export function demandLengths({ values, statuses }: Readings, count: number): void {
  const { length } = values;
  if (length < 1 || length > BLOCK_SAMPLES) throw new RangeError(`a block has 1 to ${BLOCK_SAMPLES} samples, not ${length}`);
  if (count !== length) throw new RangeError(`${length} values have ${count} positions`);
  if (statuses.length !== length) throw new RangeError(`${length} values have ${statuses.length} statuses`);
}

/** Throws RangeError naming the first position that is none. */
export function demandPositions(positions: Float64Array): void {
  for (let index = 0; index < positions.length; index += 1) {
    const position = positions[index] as number;
    const isWhole = trunc(position) === position && position <= MAX_POSITION && position >= -MAX_POSITION;
    if (!isWhole || (position === 0 && 1 / position < 0)) {
      throw new RangeError(`position ${index} is not a whole number within ±2^52: ${Object.is(position, -0) ? '-0' : position}`);
    }
  }
}
