import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { ControlPlansService } from '../control-plans/control-plans.service.js';
import { contradictory, together } from '../http/problem.js';
import { PlacedRecordsService } from '../line/placed-records.service.js';
import { Places } from '../line/places.service.js';
import type { Nonconformance } from '../nonconformances/nonconformance.entity.js';
import { isConceded } from '../nonconformances/nonconformance.rules.js';
import { NonconformancesService } from '../nonconformances/nonconformances.service.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import type { Content } from '../records/records.service.js';
import { EvidenceWaiverInput, type EvidenceWaiverContent } from './evidence-waiver.dto.js';
import { EvidenceWaiver } from './evidence-waiver.entity.js';
import { concessionFindings, waiverFaults } from './evidence-waiver.rules.js';

const CONCEDED = { field: 'nonconformanceId', limit: 'a nonconformance of this string whose disposition is the use as it is, under concession' };

@Injectable()
export class EvidenceWaiversService extends PlacedRecordsService<EvidenceWaiver, EvidenceWaiverInput, EvidenceWaiverContent> {
  readonly kind = 'evidence waiver';
  readonly entity = EvidenceWaiver;
  readonly input = EvidenceWaiverInput;
  protected override readonly filters = { stringId: 'string_id', nonconformanceId: 'nonconformance_id' };
  protected override readonly constraints = {
    // The plan or the nonconformance was amended at the same moment.
    ck_evidence_waiver_item: { field: 'itemCode', limit: 'the code of an item in a standing control plan of the string', code: 'unknown-reference' },
    ck_evidence_waiver_conceded: { ...CONCEDED, code: 'contradiction' },
  };

  constructor(
    desk: RecordDesk,
    places: Places,
    private readonly plans: ControlPlansService,
    private readonly nonconformances: NonconformancesService,
  ) {
    super(desk, places);
  }

  protected async content(tx: Transaction, input: EvidenceWaiverInput, current: EvidenceWaiver | null): Promise<Content<EvidenceWaiver>> {
    const faults = waiverFaults(input);
    if (faults.length > 0) throw contradictory(faults);
    const { stringId, itemCode, basis, agreedBy, agreement, grounds } = input;
    const [nonconformance] = await together([
      input.nonconformanceId == null ? null : this.nonconformances.namedOnString(tx, 'nonconformanceId', input.nonconformanceId, stringId),
      // Asked when the record first names it: a later plan takes nothing from what was agreed.
      itemCode === current?.itemCode ? null : this.plans.namedItem(tx, 'itemCode', itemCode, stringId),
    ]);
    const [place] = await together([this.placeOf(tx, input, { id: current?.id ?? null }), refusedUnconceded(nonconformance)]);
    return Object.assign(place, { itemCode, basis, agreedBy, agreement, grounds, nonconformanceId: input.nonconformanceId ?? null });
  }

  protected override async findings(_input: EvidenceWaiverInput, { span, nonconformanceId }: Content<EvidenceWaiver>, tx: Transaction): Promise<readonly Finding[]> {
    const nonconformance = await this.nonconformances.namedIfAny(tx, 'nonconformanceId', nonconformanceId);
    return nonconformance === null ? [] : concessionFindings(span, nonconformance);
  }

  protected present(row: EvidenceWaiver): EvidenceWaiverContent {
    const { itemCode, basis, agreedBy, agreement, grounds, nonconformanceId } = row;
    return Object.assign(this.presentPlace(row), { itemCode, basis, agreedBy, agreement, grounds, nonconformanceId });
  }
}

/** Told together with a place that cannot be. */
function refusedUnconceded(nonconformance: Nonconformance | null): Promise<void> {
  if (nonconformance === null || isConceded(nonconformance)) return Promise.resolve();
  return Promise.reject(contradictory([{ field: CONCEDED.field, value: nonconformance.id, limit: CONCEDED.limit }]));
}
