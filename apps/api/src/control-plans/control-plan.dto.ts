import { IntersectionType, OmitType } from '@nestjs/swagger';
import { TEST_KINDS, type TestKind } from '../destructive-tests/destructive-test.dto.js';
import { Choice, Id, ItemCode, Parts, Text, Whole } from '../http/fields.js';
import { FOOTAGE_LIMIT_MM } from '../line/placed.dto.js';
import { RecordAnswer, StringRecordInput } from '../records/record.dto.js';
import {
  EVIDENCE_DEMANDS, PLAN_PLACES, PLAN_SCOPES, POINT_KINDS, type EvidenceDemand, type PlanException, type PlanPlace, type PlanScope, type PointKind,
} from './control-plan-item.js';

/** Places where an item is not required. */
export class PlanExceptionPart implements PlanException {
  @Choice({ description: 'Which places; each once.', example: 'splices', of: PLAN_PLACES })
  at!: PlanPlace;

  @Whole({ description: 'How far beyond the joint to both sides; for an end, how long the end is, at least 1.', example: 300, min: 0, max: FOOTAGE_LIMIT_MM, unit: 'mm' })
  marginMm!: number;
}

/** One thing that the plan asks for, and where. */
export class ControlPlanItemPart {
  @ItemCode({ description: 'Its code; each of a plan once.', example: 'N-1' })
  code!: string;

  @Text({ description: 'The clause of the plan.', example: '5.2', max: 80 })
  clause!: string;

  @Choice({ description: 'What is asked for.', example: 'channel-inspected', of: EVIDENCE_DEMANDS })
  demands!: EvidenceDemand;

  @Choice({ description: 'Where: all pipe, or joints or an end alone. A splice can be accepted at splices only, a re-join at re-joins.', example: 'pipe', of: PLAN_SCOPES })
  at!: PlanScope;

  @Whole({
    description: 'How far beyond the joint to both sides; for an end, how long the end is, at least 1. Always but for pipe.',
    example: null, min: 0, max: FOOTAGE_LIMIT_MM, unit: 'mm', optional: true,
  })
  marginMm?: number | null;

  @Parts({
    description: 'Places where the item is not required; only of an item for pipe.', of: () => PlanExceptionPart, max: PLAN_PLACES.length, optional: true,
    example: [{ at: 'splices', marginMm: 300 }],
  })
  exceptAt?: PlanExceptionPart[] | null;

  @Id({ description: 'The channel, one of the string; only and always of channel-inspected.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b60', optional: true })
  channelId?: string | null;

  @Text({ description: 'What is measured, as inspections name it; only and always of dimension.', example: null, max: 80, optional: true })
  characteristic?: string | null;

  @Whole({ description: 'How far to both sides one reading stands; only and always of dimension.', example: null, min: 1, max: FOOTAGE_LIMIT_MM, unit: 'mm', optional: true })
  reachMm?: number | null;

  @Choice({ description: 'Which test; only of destructive-tests, and all kinds when absent.', example: null, of: TEST_KINDS, optional: true })
  test?: TestKind | null;

  @Choice({ description: 'Which point; only and always of point.', example: null, of: POINT_KINDS, optional: true })
  point?: PointKind | null;
}

/** Which evidence the pipe of a string needs, from a footage on until that of the next plan. */
export class ControlPlanInput extends StringRecordInput {
  @Text({ description: 'The document.', example: 'Control plan CP-3', max: 120 })
  document!: string;

  @Text({ description: 'Its revision.', example: '2', max: 40 })
  revision!: string;

  @Whole({ description: 'Pipe from this footage on is judged by it; each footage of a string once.', example: 0, min: 0, max: FOOTAGE_LIMIT_MM, unit: 'mm' })
  fromMm!: number;

  @Parts({
    description: 'What it asks for.', of: () => ControlPlanItemPart, min: 1, max: 100,
    example: [
      { code: 'C-1', clause: '4.1', demands: 'coil-accepted', at: 'pipe' },
      { code: 'N-1', clause: '5.2', demands: 'channel-inspected', at: 'pipe', exceptAt: [{ at: 'splices', marginMm: 300 }], channelId: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b60' },
      { code: 'D-1', clause: '5.4', demands: 'dimension', at: 'pipe', characteristic: 'wall thickness', reachMm: 6_000 },
      { code: 'S-1', clause: '6.1', demands: 'splice-accepted', at: 'splices', marginMm: 0 },
      { code: 'P-1', clause: '7.1', demands: 'point', at: 'lead-end', marginMm: 2_000, point: 'witness' },
    ],
  })
  items!: ControlPlanItemPart[];

  @Text({ description: 'Anything else worth knowing.', example: 'Agreed at the meeting before production', max: 2000, optional: true })
  note?: string | null;
}

/** The plan's own fields of an answer. */
export class ControlPlanContent extends OmitType(ControlPlanInput, ['id', 'observedAt', 'doneBy', 'source', 'confirm'] as const) {}

export class ControlPlanAnswer extends IntersectionType(RecordAnswer, ControlPlanContent) {}
