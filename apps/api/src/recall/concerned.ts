import type { UncertainSegment } from '#libs/length';
import type { Coil } from '../coils/coil.entity.js';
import type { CoilSegmentVersion } from '../segments/coil-segment.entity.js';
import type { RecordLink } from '../trace/trace.dto.js';
import type { LinkList } from './link-list.js';

/** A record that a recall concerns, and the pipe that it stands for. */
export interface ConcernedSpan {
  readonly record: RecordLink;
  readonly stringId: string;
  readonly span: UncertainSegment;
}

/** A recalled coil with its segments on all strings. */
export interface ConcernedCoil {
  readonly coil: Coil;
  readonly segments: readonly CoilSegmentVersion[];
}

/** Everything that follows from the record a recall starts at, before anyone asks where it is. */
export interface Concerned {
  readonly record: RecordLink;
  /** The record was withdrawn. */
  readonly isVoid: boolean;
  readonly spans: readonly ConcernedSpan[];
  readonly coils: readonly ConcernedCoil[];
  /** Records without footage of their own, by kind. */
  readonly others: readonly ({ readonly kind: string } & LinkList)[];
}
