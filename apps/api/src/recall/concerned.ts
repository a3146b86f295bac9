import type { UncertainSegment } from '#libs/length';
import type { Coil } from '../coils/coil.entity.js';
import type { CoilSegmentVersion } from '../segments/coil-segment.entity.js';
import type { RecordLink } from '../trace/trace.dto.js';
import type { LinkList } from './link-list.js';

/** What a record has to do with the one recalled from: certainly, or possibly because nobody can tell; and why, where it is not plain. */
export interface Concern {
  readonly isCertain: boolean;
  readonly because: string | null;
}

/** Of a record that belongs to the one recalled from as such. */
export const PLAIN_CONCERN: Concern = { isCertain: true, because: null };

/** A record that a recall concerns, and the pipe that it stands for. */
export interface ConcernedSpan extends Concern {
  readonly record: RecordLink;
  readonly stringId: string;
  readonly span: UncertainSegment;
}

/** A recalled coil with its segments on all strings. */
export interface ConcernedCoil {
  readonly coil: Coil;
  readonly segments: readonly CoilSegmentVersion[];
}

/** Where a recall starts: a record, or a batch, which is no record of its own. */
export interface RecallStart {
  readonly record: RecordLink | null;
  /** The record was withdrawn. */
  readonly isVoid: boolean;
}

/** What follows from the start of a recall, before anyone asks where it is. */
export interface Following {
  readonly spans: readonly ConcernedSpan[];
  readonly coils: readonly ConcernedCoil[];
  /** Records without footage of their own, by kind. */
  readonly others: readonly ({ readonly kind: string } & LinkList)[];
  /** What else there is to know, such as that a calibration puts nothing in doubt. */
  readonly notes: readonly string[];
}

export interface Concerned extends RecallStart, Following {}
