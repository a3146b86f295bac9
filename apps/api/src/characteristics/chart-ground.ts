import type { Interval } from '#libs/intervals';
import type { StringModel } from '../line/length-models.service.js';
import type { CoilSegmentVersion } from '../segments/coil-segment.entity.js';
import type { SpliceVersion } from '../splices/splice.entity.js';
import type { RecordLink } from '../trace/trace.dto.js';

export const BOUNDARY_KINDS = ['coil', 'splice', 're-join', 'cut-out', 'stop', 'set-up change', 'check', 'inspection run'] as const;
export type BoundaryKind = (typeof BOUNDARY_KINDS)[number];

/** Lengths to count over lie within one coil and one set-up; a stop or a check between two of them changes no rate. */
export const COUNTS_BROKEN_BY: readonly BoundaryKind[] = ['coil', 'splice', 're-join', 'cut-out', 'set-up change'];

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

/** Why pipe beyond what the counter tells of enters no chart. */
export const STILL_TO_BE_MADE = 'pipe that is still to be made';

/** The pipe that is charted, as known at an instant, and what every source needs of it. */
export interface ChartGround {
  readonly stringId: string;
  /** Null: now. */
  readonly asKnownAt: string | null;
  readonly model: StringModel;
  /** Footage, mm. */
  readonly interval: Interval;
  /** The greatest footage that was ever at the weld point. */
  readonly madeMm: number;
  /** All of the string, by footage. */
  readonly segments: readonly CoilSegmentVersion[];
  /** All of the string, by footage. */
  readonly splices: readonly SpliceVersion[];
  /** Numbers of the coils that segments and splices name, by their ids. */
  readonly coilNumbers: ReadonlyMap<string, string>;
  /** In rising order: those that break the row that is asked for. */
  readonly boundaries: readonly ChartBoundary[];
  /** In rising order of their beginnings; they may overlap. None for a characteristic whose readings are made at such places. */
  readonly exclusions: readonly ChartExclusion[];
}

/** The number of the coil that a place is of; null where none is known, or where two meet in it. */
export function coilAt({ segments, coilNumbers }: Pick<ChartGround, 'segments' | 'coilNumbers'>, place: Interval): string | null {
  let [low, high] = [0, segments.length];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((segments[middle]?.span.fromMm ?? Infinity) <= place.fromMm) low = middle + 1;
    else high = middle;
  }
  const segment = segments[low - 1];
  return segment === undefined || segment.span.toMm < place.toMm ? null : coilNumbers.get(segment.coilId) ?? null;
}
