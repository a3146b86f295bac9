import { Injectable } from '@nestjs/common';
import type { ControlPlanItem } from '../../control-plans/control-plan-item.js';
import { DestructiveCoverages } from '../../destructive-coverage/destructive-coverage.service.js';
import { COILS, DESTRUCTIVE_TESTS, SAMPLING_PLAN_ASSIGNMENTS, SAMPLING_PLANS, SEAM_EVENTS, STRINGS, TEST_SAMPLES, WELLS } from '../../recall/record-kinds.js';
import type { EvidenceGround } from '../evidence-ground.js';
import type { EvidenceSource } from '../evidence-source.js';
import { oncePerGround } from '../once-per-ground.js';
import type { RecordTestimony } from '../record-testimony.js';
import { destructiveWords } from './destructive-tests.js';
import { spoken } from './word-on-pipe.js';

/** Destructive tests stand for the pipe, and passed. */
@Injectable()
export class DestructivelyTested implements EvidenceSource {
  readonly demands = 'destructive-tests';
  readonly restsOn = [TEST_SAMPLES, DESTRUCTIVE_TESTS, SAMPLING_PLANS, SAMPLING_PLAN_ASSIGNMENTS, SEAM_EVENTS, COILS, STRINGS, WELLS];
  readonly restsOnSamples = false;

  constructor(private readonly coverages: DestructiveCoverages) {}

  async testimonies(ground: EvidenceGround, { test }: ControlPlanItem): Promise<RecordTestimony[]> {
    return spoken(destructiveWords(await this.standing(ground), test), ground.onTimeFrom);
  }

  private readonly standing = oncePerGround(({ stringId, asKnownAt }) => this.coverages.standing(stringId, asKnownAt));
}
