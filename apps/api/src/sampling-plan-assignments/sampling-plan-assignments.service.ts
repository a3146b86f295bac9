import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { contradictory, together } from '../http/problem.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { planName } from '../sampling-plans/sampling-plan.rules.js';
import { SamplingPlansService } from '../sampling-plans/sampling-plans.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import type { AssignedPlan } from './plan-in-force.js';
import { SamplingPlanAssignmentInput, type SamplingPlanAssignmentContent } from './sampling-plan-assignment.dto.js';
import { SamplingPlanAssignment } from './sampling-plan-assignment.entity.js';

@Injectable()
export class SamplingPlanAssignmentsService extends RecordsService<SamplingPlanAssignment, SamplingPlanAssignmentInput, SamplingPlanAssignmentContent> {
  readonly kind = 'sampling plan assignment';
  readonly entity = SamplingPlanAssignment;
  readonly input = SamplingPlanAssignmentInput;
  protected override readonly filters = { stringId: 'string_id', samplingPlanId: 'sampling_plan_id' };
  protected override readonly constraints = {
    uq_sampling_plan_assignment_day: { field: 'fromDay', limit: 'a day from which on the string has no other sampling plan' },
    // The plan was amended at the same moment.
    ck_sampling_plan_assignment_from_day: { field: 'fromDay', limit: 'not before the plan is effective', code: 'contradiction' },
  };

  constructor(
    desk: RecordDesk,
    private readonly strings: CasingStringsService,
    private readonly plans: SamplingPlansService,
  ) {
    super(desk);
  }

  /** The plans that a string was assigned, as known at `asKnownAt`, by their days. */
  async ofString(stringId: string, asKnownAt: string | null): Promise<AssignedPlan[]> {
    const rows = await this.desk.store.select(this.entity, "string_id = $1 and state = 'active'", [stringId], asKnownAt, 'order by from_day');
    const plans = await this.plans.rowsByIds(rows.map(({ samplingPlanId }) => samplingPlanId), asKnownAt);
    return rows.flatMap((assignment) => {
      const plan = plans.get(assignment.samplingPlanId);
      return plan === undefined ? [] : [{ assignment, plan }];
    });
  }

  protected async content(tx: Transaction, input: SamplingPlanAssignmentInput): Promise<Content<SamplingPlanAssignment>> {
    const { stringId, samplingPlanId, fromDay, note } = input;
    const [, plan] = await together([this.strings.named(tx, 'stringId', stringId), this.plans.named(tx, 'samplingPlanId', samplingPlanId)]);
    if (fromDay < plan.effectiveFrom) {
      throw contradictory([{ field: 'fromDay', value: fromDay, limit: `not before ${plan.effectiveFrom}, when ${planName(plan)} becomes effective` }]);
    }
    return { stringId, samplingPlanId, fromDay, note: note ?? null };
  }

  protected present({ stringId, samplingPlanId, fromDay, note }: SamplingPlanAssignment): SamplingPlanAssignmentContent {
    return { stringId, samplingPlanId, fromDay, note };
  }
}
