import { Injectable } from '@nestjs/common';
import { normalInstant, type Transaction } from '#libs/persistence';
import { together } from '../http/problem.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { inWords, isWithin } from '../shifts/shift.rules.js';
import { ShiftsService } from '../shifts/shifts.service.js';
import { aboutOf, AboutRecords } from '../string-records/about-records.service.js';
import { ShiftEventInput, type ShiftEventContent } from './shift-event.dto.js';
import { ShiftEvent } from './shift-event.entity.js';

@Injectable()
export class ShiftEventsService extends RecordsService<ShiftEvent, ShiftEventInput, ShiftEventContent> {
  readonly kind = 'shift event';
  readonly entity = ShiftEvent;
  readonly input = ShiftEventInput;
  protected override readonly filters = { stringId: 'string_id', shiftId: 'shift_id' };

  constructor(
    desk: RecordDesk,
    private readonly shifts: ShiftsService,
    private readonly records: AboutRecords,
  ) {
    super(desk);
  }

  /** The events of a shift known at `asKnownAt`, in the order in which they happened. */
  async ofShift(shiftId: string, asKnownAt: string | null): Promise<ShiftEvent[]> {
    return this.desk.store.select(this.entity, "shift_id = $1 and state = 'active'", [shiftId], asKnownAt, 'order by observed_at, id');
  }

  protected async content(tx: Transaction, input: ShiftEventInput, current: ShiftEvent | null): Promise<Content<ShiftEvent>> {
    const { stringId, shiftId, category, text } = input;
    const about = aboutOf(input.about);
    await together([
      this.shifts.namedOnString(tx, 'shiftId', shiftId, stringId), this.records.demand(tx, 'about', about, stringId, [current?.about ?? null]),
    ]);
    return { stringId, shiftId, category, text, about };
  }

  /** What did not happen in its shift is asked about, and taken once that is confirmed. */
  protected override async findings(input: ShiftEventInput, { shiftId }: Content<ShiftEvent>, tx: Transaction): Promise<readonly Finding[]> {
    const shift = await this.shifts.named(tx, 'shiftId', shiftId);
    const at = normalInstant(input.observedAt);
    return isWithin(at, shift) ? [] : [{ tier: 'implausible', field: 'observedAt', value: at, limit: `in its shift: ${inWords(shift)}` }];
  }

  protected present({ stringId, shiftId, category, text, about }: ShiftEvent): ShiftEventContent {
    return { stringId, shiftId, category, text, about };
  }
}
