import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { contradictory, together } from '../http/problem.js';
import { InstrumentsService } from '../instruments/instruments.service.js';
import { READ_WITH, readWith } from '../instruments/read-with.js';
import { PlacedRecordsService } from '../line/placed-records.service.js';
import { Places } from '../line/places.service.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import type { Content } from '../records/records.service.js';
import { weldProcedureOf } from '../weld-procedures/weld-procedure.rules.js';
import { WeldProceduresService } from '../weld-procedures/weld-procedures.service.js';
import { demandInstruments, takenReadings } from '../welds/weld-readings.js';
import { orderOfLine } from './event-order.js';
import { SeamEventInput, type SeamEventContent } from './seam-event.dto.js';
import { SeamEvent } from './seam-event.entity.js';
import { otherPurpose, seamEventFaults, seamEventFindings } from './seam-event.rules.js';

@Injectable()
export class SeamEventsService extends PlacedRecordsService<SeamEvent, SeamEventInput, SeamEventContent> {
  readonly kind = 'seam event';
  readonly entity = SeamEvent;
  readonly input = SeamEventInput;
  protected override readonly filters = { stringId: 'string_id', weldProcedureId: 'weld_procedure_id' };

  constructor(
    desk: RecordDesk,
    places: Places,
    private readonly procedures: WeldProceduresService,
    private readonly instruments: InstrumentsService,
  ) {
    super(desk, places);
  }

  /** The events of a string known at `asKnownAt`, in the order of `orderOfLine`. */
  async inOrder(stringId: string, asKnownAt: string | null): Promise<SeamEvent[]> {
    return orderOfLine(await this.desk.store.select(this.entity, "string_id = $1 and state = 'active'", [stringId], asKnownAt));
  }

  /** The events with a reading of any of some instruments, known at `asKnownAt`, by when they were done. */
  async withInstruments(instrumentIds: readonly string[], asKnownAt: string | null): Promise<SeamEvent[]> {
    return this.desk.store.select(this.entity, READ_WITH, [readWith(instrumentIds)], asKnownAt, 'order by observed_at, id');
  }

  protected async content(tx: Transaction, input: SeamEventInput, current: SeamEvent | null): Promise<Content<SeamEvent>> {
    const readings = takenReadings(input.readings);
    const faults = seamEventFaults(input);
    if (faults.length > 0) throw contradictory(faults);
    await together([demandInstruments(tx, readings, this.instruments), this.procedures.named(tx, 'weldProcedureId', input.weldProcedureId)]);
    const place = await this.placeOf(tx, input, { id: current?.id ?? null });
    const { event, weldProcedureId, cause, note } = input;
    return Object.assign(place, { event, weldProcedureId, readings, cause: cause ?? null, note: note ?? null });
  }

  protected override async findings({ event }: SeamEventInput, { readings, weldProcedureId }: Content<SeamEvent>, tx: Transaction): Promise<readonly Finding[]> {
    const procedure = await this.procedures.named(tx, 'weldProcedureId', weldProcedureId);
    return [...otherPurpose(procedure), ...seamEventFindings(event, readings, weldProcedureOf(procedure))];
  }

  protected present(row: SeamEvent): SeamEventContent {
    const { event, weldProcedureId, readings, cause, note } = row;
    return Object.assign(this.presentPlace(row), { event, weldProcedureId, readings: [...readings], cause, note });
  }
}
