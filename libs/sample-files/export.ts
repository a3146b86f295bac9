import { bitsOf, NO_VALUE_BITS, STATUS, type Samples } from '#libs/signals';
import type { PositionColumn } from './part.js';

/*
 * Samples as they are given to others, one row each, so that nothing is lost and nothing misleads:
 * - the position: the reading of the counter, or the instant;
 * - footageMm: where on the pipe it was read, empty where that is not known;
 * - value: empty where the sample is missing, so that no mean takes in a −999;
 * - sentInstead: what the device sent in the place of a missing one, empty where it sent nothing;
 * - status: one of `STATUS_NAMES` of libs/signals.
 */

export interface ExportShape {
  readonly position: PositionColumn;
  /** What goes with the file: name and unit of the channel, for example. Only Arrow can carry it. */
  readonly about?: Readonly<Record<string, string>>;
}

/** Samples of one channel, as many as are written at once. */
export interface ExportBlock extends Samples {
  /** One a sample, NaN where it is not known; null where none is. */
  readonly footageMm: Float64Array | null;
}

export const EXPORT_COLUMNS = ['footageMm', 'value', 'sentInstead', 'status'] as const;

export type ExportBlocks = AsyncIterable<ExportBlock> | Iterable<ExportBlock>;

export const isMissing = (statuses: Uint8Array, index: number): boolean => statuses[index] === STATUS.missing;

/** Whether a missing sample has something that the device sent in its place. */
export const isSentInstead = ({ values, statuses }: Samples, index: number): boolean => isMissing(statuses, index) && bitsOf(values)[index] !== NO_VALUE_BITS;
