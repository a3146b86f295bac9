import { Injectable } from '@nestjs/common';
import { normalInstant, type Transaction } from '#libs/persistence';
import { HoldsService } from '../holds/holds.service.js';
import { refusedField } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { HoldLiftingInput, type HoldLiftingContent } from './hold-lifting.dto.js';
import { HoldLifting } from './hold-lifting.entity.js';
import { liftingFindings } from './hold-lifting.rules.js';

const BY_ANOTHER = { field: 'doneBy', limit: 'another person than the one who set the hold, unless ownHoldBecause says why', code: 'own-hold' };
const STAYS = { field: 'holdId', limit: 'the hold that it lifted', code: 'other-hold' };

@Injectable()
export class HoldLiftingsService extends RecordsService<HoldLifting, HoldLiftingInput, HoldLiftingContent> {
  readonly kind = 'hold lifting';
  readonly entity = HoldLifting;
  readonly input = HoldLiftingInput;
  protected override readonly filters = { stringId: 'string_id', holdId: 'hold_id' };
  protected override readonly constraints = {
    uq_hold_lifting_hold_id: { field: 'holdId', limit: 'a hold that nobody lifted yet' },
    // The hold was amended or withdrawn at the same moment.
    ck_hold_lifting_hold: { field: 'holdId', limit: 'a hold of this string that is not void', code: 'unknown-reference' },
    ck_hold_lifting_by_another: BY_ANOTHER,
    ck_hold_lifting_stays: STAYS,
  };

  constructor(
    desk: RecordDesk,
    private readonly holds: HoldsService,
  ) {
    super(desk);
  }

  /** The liftings of some holds known at `asKnownAt`, by hold. */
  async ofHolds(holdIds: readonly string[], asKnownAt: string | null): Promise<ReadonlyMap<string, HoldLifting>> {
    if (holdIds.length === 0) return new Map();
    const rows = await this.desk.store.select(this.entity, "hold_id = any($1::uuid[]) and state = 'active'", [holdIds], asKnownAt);
    return new Map(rows.map((row) => [row.holdId, row]));
  }

  protected async content(tx: Transaction, input: HoldLiftingInput, current: HoldLifting | null): Promise<Content<HoldLifting>> {
    const { stringId, holdId, grounds, evidence } = input;
    const ownHoldBecause = input.ownHoldBecause ?? null;
    if (current !== null && current.holdId !== holdId) throw refusedField(STAYS.code, STAYS.field, holdId, `stays ${current.holdId}`);
    const hold = await this.holds.namedOnString(tx, 'holdId', holdId, stringId);
    const lifter = this.lifter(input, tx, current);
    if (lifter === hold.doneBy && ownHoldBecause === null) throw refusedField(BY_ANOTHER.code, BY_ANOTHER.field, lifter, BY_ANOTHER.limit);
    return { stringId, holdId, grounds, evidence, ownHoldBecause };
  }

  protected override async findings(
    input: HoldLiftingInput, { holdId }: Content<HoldLifting>, tx: Transaction, current: HoldLifting | null,
  ): Promise<readonly Finding[]> {
    const hold = await this.holds.named(tx, 'holdId', holdId);
    return liftingFindings({ doneBy: this.lifter(input, tx, current), keyedBy: tx.actor.personId, observedAt: normalInstant(input.observedAt) }, hold);
  }

  protected present({ stringId, holdId, grounds, evidence, ownHoldBecause }: HoldLifting): HoldLiftingContent {
    return { stringId, holdId, grounds, evidence, ownHoldBecause };
  }

  private lifter({ doneBy }: HoldLiftingInput, tx: Transaction, current: HoldLifting | null): string {
    return doneBy ?? current?.doneBy ?? tx.actor.personId;
  }
}
