import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { contradictory } from '../http/problem.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { SamplingPlanInput, type PlannedTestPart, type SamplingPlanContent } from './sampling-plan.dto.js';
import { SamplingPlanVersion } from './sampling-plan.entity.js';
import { planFaults, plannedTests } from './sampling-plan.rules.js';

@Injectable()
export class SamplingPlansService extends RecordsService<SamplingPlanVersion, SamplingPlanInput, SamplingPlanContent> {
  readonly kind = 'sampling plan';
  readonly entity = SamplingPlanVersion;
  readonly input = SamplingPlanInput;
  protected override readonly constraints = {
    uq_sampling_plan_revision: { field: 'revision', limit: 'a revision that this plan does not have yet' },
  };

  constructor(desk: RecordDesk) {
    super(desk);
  }

  protected content(_tx: Transaction, input: SamplingPlanInput): Content<SamplingPlanVersion> {
    const faults = planFaults(input);
    if (faults.length > 0) throw contradictory(faults);
    const { number, revision, title, effectiveFrom, note } = input;
    return { number, revision, title, effectiveFrom, tests: plannedTests(input.tests), note: note ?? null };
  }

  protected present({ number, revision, title, effectiveFrom, tests, note }: SamplingPlanVersion): SamplingPlanContent {
    return { number, revision, title, effectiveFrom, tests: tests as PlannedTestPart[], note };
  }
}
