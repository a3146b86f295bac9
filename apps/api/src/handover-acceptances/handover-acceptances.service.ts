import { Injectable } from '@nestjs/common';
import { normalInstant, type Transaction } from '#libs/persistence';
import type { Handover } from '../handovers/handover.entity.js';
import { HandoversService } from '../handovers/handovers.service.js';
import { contradictory, Refused, type FieldProblem, refusedField } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { ShiftsService } from '../shifts/shifts.service.js';
import { HandoverAcceptanceInput, type HandoverAcceptanceContent } from './handover-acceptance.dto.js';
import { HandoverAcceptance } from './handover-acceptance.entity.js';
import { acceptanceFaults, acceptanceFindings } from './handover-acceptance.rules.js';

const BY_ANOTHER = { field: 'doneBy', limit: 'another person than the one who gave the handover', code: 'own-handover' };
const STAYS = { field: 'handoverId', limit: 'the handover that it accepted', code: 'other-handover' };
const AS_GIVEN = { field: 'handoverVersion', limit: 'the version of the handover that stands', code: 'stale-handover' };

@Injectable()
export class HandoverAcceptancesService extends RecordsService<HandoverAcceptance, HandoverAcceptanceInput, HandoverAcceptanceContent> {
  readonly kind = 'handover acceptance';
  readonly entity = HandoverAcceptance;
  readonly input = HandoverAcceptanceInput;
  protected override readonly filters = { stringId: 'string_id', handoverId: 'handover_id' };
  protected override readonly constraints = {
    uq_handover_acceptance_handover_id: { field: 'handoverId', limit: 'a handover that nobody accepted yet' },
    accepted_by_another: BY_ANOTHER,
    accepted_as_given: AS_GIVEN,
    acceptance_stays: STAYS,
  };

  constructor(
    desk: RecordDesk,
    private readonly handovers: HandoversService,
    private readonly shifts: ShiftsService,
  ) {
    super(desk);
  }

  /** What was said to some handovers, known at `asKnownAt`, by handover. */
  async ofHandovers(ids: readonly string[], asKnownAt: string | null): Promise<ReadonlyMap<string, HandoverAcceptance>> {
    if (ids.length === 0) return new Map();
    const rows = await this.desk.store.select(this.entity, "handover_id = any($1::uuid[]) and state = 'active'", [ids], asKnownAt);
    return new Map(rows.map((row) => [row.handoverId, row]));
  }

  protected async content(tx: Transaction, input: HandoverAcceptanceInput, current: HandoverAcceptance | null): Promise<Content<HandoverAcceptance>> {
    const { stringId, handoverId, handoverVersion } = input;
    if (current !== null && current.handoverId !== handoverId) throw refusedField(STAYS.code, STAYS.field, handoverId, `stays ${current.handoverId}`);
    const handover = await this.handovers.namedOnString(tx, 'handoverId', handoverId, stringId);
    const items = input.items.map(({ item, accepted, words }) => ({ item, accepted, words: words ?? null }));
    const accepting = this.acceptor(input, tx, current);
    const isStale = handoverVersion !== handover.version;
    // Items are held against the version that stands: who read another one is told that first.
    const faults = isStale ? [] : acceptanceFaults(items, handover.items.length);
    if (accepting === handover.doneBy) throw ownHandover(accepting, faults);
    if (isStale) throw staleHandover(handoverVersion, handover);
    if (faults.length > 0) throw contradictory(faults);
    return { stringId, handoverId, handoverVersion, items, note: input.note ?? null };
  }

  protected override async findings(
    input: HandoverAcceptanceInput, { handoverId }: Content<HandoverAcceptance>, tx: Transaction, current: HandoverAcceptance | null,
  ): Promise<readonly Finding[]> {
    const handover = await this.handovers.named(tx, 'handoverId', handoverId);
    const next = handover.nextShiftId === null ? null : await this.shifts.named(tx, 'nextShiftId', handover.nextShiftId);
    const accepting = { doneBy: this.acceptor(input, tx, current), keyedBy: tx.actor.personId, observedAt: normalInstant(input.observedAt) };
    return acceptanceFindings(accepting, handover, next);
  }

  protected present({ stringId, handoverId, handoverVersion, items, note }: HandoverAcceptance): HandoverAcceptanceContent {
    return { stringId, handoverId, handoverVersion, items: items.map(({ item, accepted, words }) => ({ item, accepted, words })), note };
  }

  private acceptor({ doneBy }: HandoverAcceptanceInput, tx: Transaction, current: HandoverAcceptance | null): string {
    return doneBy ?? current?.doneBy ?? tx.actor.personId;
  }
}

/** Nobody accepts from themselves; what else does not go together is told beside it. */
const ownHandover = (value: string, others: readonly FieldProblem[]): Refused =>
  new Refused(422, BY_ANOTHER.code, BY_ANOTHER.limit, [{ field: BY_ANOTHER.field, value, limit: BY_ANOTHER.limit }, ...others]);

/** What is accepted is what was read. */
const staleHandover = (read: number, { version }: Handover): Refused =>
  new Refused(409, AS_GIVEN.code, `The handover has changed since: version ${version} stands. Read it again.`, [{ field: AS_GIVEN.field, value: read, limit: `${version}, the version that stands` }]);
