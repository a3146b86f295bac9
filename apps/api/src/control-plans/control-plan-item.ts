import type { TestKind } from '../destructive-tests/destructive-test.dto.js';

/** What a control plan can ask for. */
export const EVIDENCE_DEMANDS = [
  'coil-accepted', 'heat-confirmed', 'seam-parameters', 'channel-inspected', 'dimension', 'splice-accepted', 'rejoin-accepted', 'people-valid', 'instruments-valid',
  'destructive-tests', 'indications-settled', 'repairs-reinspected', 'nonconformances-closed', 'point', 'released',
] as const;
export type EvidenceDemand = (typeof EVIDENCE_DEMANDS)[number];

/** Places of the pipe that have rules of their own: joints, and the two ends of the string. */
export const PLAN_PLACES = ['splices', 're-joins', 'lead-end', 'tail-end'] as const;
export type PlanPlace = (typeof PLAN_PLACES)[number];

/** Where an item of a plan is asked for. */
export const PLAN_SCOPES = ['pipe', ...PLAN_PLACES] as const;
export type PlanScope = (typeof PLAN_SCOPES)[number];

/** A hold point is waited for, a witness point invited to, a review point looked at later. */
export const POINT_KINDS = ['hold', 'witness', 'review'] as const;
export type PointKind = (typeof POINT_KINDS)[number];

/** Places where an item for pipe is not required. */
export interface PlanException {
  readonly at: PlanPlace;
  /** How far beyond the joint to both sides; for an end, how long the end is. */
  readonly marginMm: number;
}

/** One thing that a plan asks for, and where. */
export interface ControlPlanItem {
  /** Unique in its plan. */
  readonly code: string;
  readonly clause: string;
  readonly demands: EvidenceDemand;
  readonly at: PlanScope;
  /** How far beyond the joint to both sides; for an end, how long the end is; null for pipe. */
  readonly marginMm: number | null;
  readonly exceptAt: readonly PlanException[];
  /** Of `channel-inspected` alone. */
  readonly channelId: string | null;
  /** Of `dimension` alone, as inspections name it. */
  readonly characteristic: string | null;
  /** Of `dimension` alone: how far to both sides one reading stands. */
  readonly reachMm: number | null;
  /** Of `destructive-tests` alone; null: all kinds of test. */
  readonly test: TestKind | null;
  /** Of `point` alone. */
  readonly point: PointKind | null;
}
