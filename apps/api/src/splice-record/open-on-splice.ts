import type { IntervalSet } from '#libs/intervals';
import { microseconds } from '#libs/persistence';
import { stepLooks, type RecordedLook, type RecordedRepair } from '../reinspections/looks.js';
import type { RepairStateAnswer } from '../reinspections/reinspection.dto.js';
import type { SpliceStep } from '../splice-steps/splice-step.entity.js';
import type { SpliceVersion } from '../splices/splice.entity.js';
import type { Weld } from '../welds/weld.entity.js';
import { openAfterRepairs, openOfSplice } from './splice-stages.js';
import { turnedDownOnSplice } from './turned-down-on-splice.js';

/** A splice with what was done to it and seen of it. */
export interface SpliceOnRecord {
  readonly splice: Pick<SpliceVersion, 'confirmed' | 'span'>;
  /** What of it was not cut out. */
  readonly standing: IntervalSet;
  readonly steps: readonly SpliceStep[];
  readonly welds: readonly Pick<Weld, 'observedAt'>[];
  /** Repairs over its pipe. */
  readonly over: readonly RecordedRepair[];
  /** Where its repairs stand, those over its pipe and those that name it. */
  readonly repairs: readonly RepairStateAnswer[];
  /** Its examinations; those of its steps are taken from the steps. */
  readonly looks: readonly RecordedLook[];
}

/** What is open of a splice by its stages, its welds, its repairs and what was seen of it; not of the people and instruments behind them. */
export function openOnSplice({ splice, standing, steps, welds, over, repairs, looks }: SpliceOnRecord): string[] {
  const made = { weldedAt: welds.map(({ observedAt }) => observedAt), repairedAt: over.map(({ row }) => row.observedAt) };
  return [
    ...(splice.confirmed ? [] : ['its place is predicted, and was not confirmed']), ...openOfSplice(steps, made),
    ...turnedDownOnSplice({ on: standing, atUs: Math.max(-Infinity, ...made.weldedAt.map(microseconds)) }, over, [...looks, ...steps.flatMap((step) => stepLooks(step, splice.span))]),
    ...openAfterRepairs(steps, repairs),
  ];
}
