import { Injectable } from '@nestjs/common';
import { sqlRefusal, type Transaction } from '#libs/persistence';
import { CoilsService } from '../coils/coils.service.js';
import { contradictory, refusedField, together } from '../http/problem.js';
import { extentOf, givenOf, movedExtent } from '../line/extent.js';
import type { LineKnowledge } from '../line/line-knowledge.js';
import { Places, type Move, type PlacedKind } from '../line/places.service.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { SplicesService } from '../splices/splices.service.js';
import { HoldInput, type HoldContent } from './hold.dto.js';
import { Hold } from './hold.entity.js';
import { holdFaults } from './hold.rules.js';

@Injectable()
export class HoldsService extends RecordsService<Hold, HoldInput, HoldContent> implements PlacedKind<Hold> {
  readonly kind = 'hold';
  readonly entity = Hold;
  readonly input = HoldInput;
  readonly stage = 'records';
  protected override readonly filters = { stringId: 'string_id' };
  protected override readonly constraints = {
    // What is held was withdrawn at the same moment.
    ck_hold_coils: { field: 'coilIds', limit: 'coils that are not void', code: 'unknown-reference' },
    ck_hold_splices: { field: 'spliceIds', limit: 'splices of the string that are not void', code: 'unknown-reference' },
    ck_hold_own_lifting: { field: 'doneBy', limit: 'another person than the one who lifted it, since that lifting does not say why it may be their own', code: 'own-hold' },
    ck_hold_lifted: { field: 'intervals', limit: 'what it held when it was lifted: set another hold', code: 'lifted' },
  };

  constructor(
    desk: RecordDesk,
    private readonly places: Places,
    private readonly coils: CoilsService,
    private readonly splices: SplicesService,
  ) {
    super(desk);
    places.register(this);
  }

  moved(row: Hold, line: LineKnowledge): Move | null {
    return movedExtent(row, extentOf('intervals', row.given, row.observedAt, line));
  }

  /** The holds of a string, and those of its coils whichever string they were set on, known at `asKnownAt`, lifted or not, by when they were set. */
  async about(stringId: string, coilIds: readonly string[], asKnownAt: string | null): Promise<Hold[]> {
    return this.desk.store.select(this.entity, "state = 'active' and (string_id = $1 or coil_ids && $2::uuid[])", [stringId, coilIds], asKnownAt, 'order by observed_at, id');
  }

  protected async content(tx: Transaction, input: HoldInput): Promise<Content<Hold>> {
    const faults = holdFaults(input);
    if (faults.length > 0) throw contradictory(faults);
    const { stringId, cause, coilIds, spliceIds } = input;
    await together([
      ...coilIds.map((id, index) => this.coils.named(tx, `coilIds[${index}]`, id)),
      ...spliceIds.map((id, index) => this.splices.namedOnString(tx, `spliceIds[${index}]`, id, stringId)),
    ]);
    const given = input.intervals.map(givenOf);
    const columns = extentOf('intervals', given, input.observedAt, await this.places.line(tx, stringId));
    return { stringId, cause, given, ...columns, coilIds, spliceIds };
  }

  /** Intervals past an end of the string are named as they were given. */
  protected override explained(error: unknown, input: HoldInput | null): unknown {
    const refusal = sqlRefusal(error);
    if (refusal?.sqlState !== 'EM006' || input === null) return super.explained(error, input);
    return refusedField('outside-string', 'intervals', input.intervals, refusal.message);
  }

  protected present({ stringId, cause, given, extent, restsOn, coilIds, spliceIds }: Hold): HoldContent {
    return {
      stringId, cause, intervals: given.map(({ from, to }) => ({ from, to })), coilIds: [...coilIds], spliceIds: [...spliceIds],
      footage: extent.map(({ fromMm, toMm }) => ({ fromMm, toMm })), restsOn,
    };
  }
}
