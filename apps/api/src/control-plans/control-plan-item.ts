import type { TestKind } from '../destructive-tests/destructive-test.dto.js';

/** What a control plan can demand of pipe. */
export const EVIDENCE_DEMANDS = [
  'coil-accepted', 'heat-confirmed', 'seam-parameters', 'channel-inspected', 'dimension', 'splice-accepted', 'rejoin-accepted', 'people-valid', 'instruments-valid',
  'destructive-tests', 'indications-settled', 'repairs-reinspected', 'nonconformances-closed', 'point', 'released',
] as const;
export type EvidenceDemand = (typeof EVIDENCE_DEMANDS)[number];

/** Where something is demanded: all along the pipe, or at its joints and ends. */
export const PLAN_PLACES = ['pipe', 'splices', 're-joins', 'lead-end', 'tail-end'] as const;
export type PlanPlace = (typeof PLAN_PLACES)[number];

/** Where an item for the pipe is not demanded. */
export const EXCEPTED_PLACES = ['splices', 're-joins', 'lead-end', 'tail-end'] as const;

export interface ExceptedPlace {
  readonly at: (typeof EXCEPTED_PLACES)[number];
  readonly marginMm: number;
}

export const POINTS = ['hold', 'witness', 'review'] as const;

/** One demand of a control plan. */
export interface ControlPlanItem {
  readonly code: string;
  readonly clause: string;
  readonly demands: EvidenceDemand;
  readonly at: PlanPlace;
  /** To both sides of a joint; of an end, how long it is. Null for the pipe. */
  readonly marginMm: number | null;
  readonly exceptAt: readonly ExceptedPlace[];
  readonly channelId: string | null;
  readonly characteristic: string | null;
  /** How far to both sides one reading stands. */
  readonly reachMm: number | null;
  /** Null: tests of every kind. */
  readonly test: TestKind | null;
  readonly point: (typeof POINTS)[number] | null;
}
