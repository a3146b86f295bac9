import { Injectable } from '@nestjs/common';
import { normalInstant, type Transaction } from '#libs/persistence';
import { contradictory, together } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { ShiftsService } from '../shifts/shifts.service.js';
import { aboutOf, AboutRecords } from '../string-records/about-records.service.js';
import { HandoverInput, type HandoverContent } from './handover.dto.js';
import { Handover } from './handover.entity.js';
import { handoverFindings } from './handover.rules.js';

@Injectable()
export class HandoversService extends RecordsService<Handover, HandoverInput, HandoverContent> {
  readonly kind = 'handover';
  readonly entity = Handover;
  readonly input = HandoverInput;
  protected override readonly filters = { stringId: 'string_id', shiftId: 'shift_id', nextShiftId: 'next_shift_id' };

  constructor(
    desk: RecordDesk,
    private readonly shifts: ShiftsService,
    private readonly records: AboutRecords,
  ) {
    super(desk);
  }

  /** What a shift handed over, known at `asKnownAt`, in the order in which it was given. */
  async ofShift(shiftId: string, asKnownAt: string | null): Promise<Handover[]> {
    return this.desk.store.select(this.entity, "shift_id = $1 and state = 'active'", [shiftId], asKnownAt, 'order by observed_at, id');
  }

  /** What was handed over to a shift, by whichever shift, known at `asKnownAt`, in the order in which it was given. */
  async toShift(shiftId: string, asKnownAt: string | null): Promise<Handover[]> {
    return this.desk.store.select(this.entity, "next_shift_id = $1 and state = 'active'", [shiftId], asKnownAt, 'order by observed_at, id');
  }

  /** What was handed over on a string, known at `asKnownAt`, in the order in which it was given. */
  async ofString(stringId: string, asKnownAt: string | null): Promise<Handover[]> {
    return this.desk.store.select(this.entity, "string_id = $1 and state = 'active'", [stringId], asKnownAt, 'order by observed_at, id');
  }

  protected async content(tx: Transaction, input: HandoverInput, current: Handover | null): Promise<Content<Handover>> {
    const { stringId, shiftId } = input;
    const nextShiftId = input.nextShiftId ?? null;
    if (nextShiftId === shiftId) throw contradictory([{ field: 'nextShiftId', value: nextShiftId, limit: 'another shift than the one that hands over' }]);
    const items = input.items.map(({ words, about, footageMm }) => ({ words, about: aboutOf(about), footageMm: footageMm ?? null }));
    const before = (current?.items ?? []).map(({ about }) => about);
    await together([
      this.shifts.namedOnString(tx, 'shiftId', shiftId, stringId),
      ...(nextShiftId === null ? [] : [this.shifts.namedOnString(tx, 'nextShiftId', nextShiftId, stringId)]),
      ...items.map(({ about }, index) => this.records.demand(tx, `items[${index}].about`, about, stringId, before)),
    ]);
    return { stringId, shiftId, nextShiftId, items, note: input.note ?? null };
  }

  protected override async findings(input: HandoverInput, content: Content<Handover>, tx: Transaction, current: Handover | null): Promise<readonly Finding[]> {
    const { shiftId, nextShiftId } = content;
    const shift = await this.shifts.named(tx, 'shiftId', shiftId);
    const next = nextShiftId === null ? null : await this.shifts.named(tx, 'nextShiftId', nextShiftId);
    const doneBy = input.doneBy ?? current?.doneBy ?? tx.actor.personId;
    return handoverFindings({ doneBy, observedAt: normalInstant(input.observedAt), nextShiftId }, shift, next);
  }

  protected present({ stringId, shiftId, nextShiftId, items, note }: Handover): HandoverContent {
    return { stringId, shiftId, nextShiftId, items: items.map(({ words, about, footageMm }) => ({ words, about, footageMm })), note };
  }
}
