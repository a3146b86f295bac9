import type { IntervalSet } from '#libs/intervals';

/** How sensitive an examination was set up to be: the smallest reference reflector that it had to show. */
export interface Sensitivity {
  /** The kind of reflector; sizes compare within one kind only. */
  readonly reflector: string;
  /** Its size, mm, as decimal text; the smaller, the more sensitive. */
  readonly sizeMm: string;
}

export type Outcome = 'accepted' | 'held' | 'rejected';

/** One result about a stretch of pipe. */
export interface Look {
  readonly on: IntervalSet;
  /** Microseconds since 1970 UTC. */
  readonly atUs: number;
  /** What can be repeated at all: an examination method, or a kind of inspection with its characteristic. */
  readonly method: string;
  /** Methods that it stands in for, as somebody entitled to said with a reason. */
  readonly standsInFor: readonly string[];
  /** The technique and its revision; null where the method has none. */
  readonly technique: string | null;
  readonly sensitivity: Sensitivity | null;
  readonly outcome: Outcome;
  /** False for the measurement of a dimension, which says nothing of flaws. */
  readonly seesFlaws: boolean;
}

/** Pipe that was changed, and when: a repair, or a weld made again. */
export interface RepairEvent {
  readonly on: IntervalSet;
  /** Microseconds since 1970 UTC. */
  readonly atUs: number;
}
