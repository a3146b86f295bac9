import type { Interval } from '#libs/intervals';
import type { StringModel } from '../line/length-models.service.js';
import type { CoilSegmentVersion } from '../segments/coil-segment.entity.js';
import type { RecordLink } from '../trace/trace.dto.js';

export const BOUNDARY_KINDS = ['coil', 'splice', 're-join', 'cut-out', 'stop', 'set-up change', 'check', 'inspection run'] as const;
export type BoundaryKind = (typeof BOUNDARY_KINDS)[number];

/** A place that no subgroup and no pattern reaches across. */
export interface ChartBoundary {
  /** Footage, mm: what begins here is on its far side. */
  readonly atMm: number;
  readonly kind: BoundaryKind;
  readonly label: string;
  readonly record: RecordLink | null;
}

/** Pipe whose readings enter no chart, and why. */
export interface ChartExclusion extends Interval {
  readonly because: string;
  readonly record: RecordLink | null;
}

/** The pipe that is charted, as known at an instant, and what every source needs of it. */
export interface ChartGround {
  readonly stringId: string;
  /** Null: now. */
  readonly asKnownAt: string | null;
  readonly model: StringModel;
  /** Footage, mm. */
  readonly interval: Interval;
  readonly segments: readonly CoilSegmentVersion[];
  /** In rising order. */
  readonly boundaries: readonly ChartBoundary[];
  /** In rising order of their beginnings; they may overlap. */
  readonly exclusions: readonly ChartExclusion[];
}
