import type { SamplingPlanVersion } from '../sampling-plans/sampling-plan.entity.js';
import type { SamplingPlanAssignment } from './sampling-plan-assignment.entity.js';

/** A plan with the assignment that puts it in force for a string. */
export interface AssignedPlan {
  readonly assignment: SamplingPlanAssignment;
  readonly plan: SamplingPlanVersion;
}

/** The plan in force on a day: the one assigned last by then; null when none was. @param assigned by their days, earliest first */
export function planInForce(assigned: readonly AssignedPlan[], day: string): AssignedPlan | null {
  return assigned.filter(({ assignment }) => assignment.fromDay <= day).at(-1) ?? null;
}
