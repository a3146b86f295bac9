import type { RecordVersion } from '#libs/persistence';
import type { ControlPlanItem, EvidenceDemand } from '../control-plans/control-plan-item.js';
import type { RecordKind } from '../recall/record-kinds.js';
import type { EvidenceGround } from './evidence-ground.js';
import type { RecordTestimony } from './record-testimony.js';

/** Where the testimonies for one kind of demand come from. */
export interface EvidenceSource {
  readonly demands: EvidenceDemand;
  /** Every kind of record that what it says rests on, beside the lines, coil segments, splices, cut-outs and re-joins of the string. */
  readonly restsOn: readonly RecordKind<RecordVersion>[];
  /** Whether samples of channels decide too. */
  readonly restsOnSamples: boolean;
  /** What the records known say of the ground's pipe for this item; in any order, and beyond that pipe too. */
  testimonies(ground: EvidenceGround, item: ControlPlanItem): Promise<RecordTestimony[]>;
}
