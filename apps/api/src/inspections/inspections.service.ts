import { Injectable } from '@nestjs/common';
import type { Interval } from '#libs/intervals';
import type { Transaction } from '#libs/persistence';
import { InstrumentsService } from '../instruments/instruments.service.js';
import { PlacedRecordsService } from '../line/placed-records.service.js';
import { Places } from '../line/places.service.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import type { Content } from '../records/records.service.js';
import { InspectionInput, type InspectionContent } from './inspection.dto.js';
import { Inspection } from './inspection.entity.js';
import { inspectionFindings, refuseHalfSaid } from './inspection.rules.js';
import { SEEN_PROPERTIES, type SeenInspection } from './seen-inspection.js';

@Injectable()
export class InspectionsService extends PlacedRecordsService<Inspection, InspectionInput, InspectionContent> {
  readonly kind = 'inspection';
  readonly entity = Inspection;
  readonly input = InspectionInput;
  protected override readonly standsAlone = true;
  protected override readonly filters = { stringId: 'string_id', instrumentId: 'instrument_id' };

  constructor(desk: RecordDesk, places: Places, private readonly instruments: InstrumentsService) {
    super(desk, places);
  }

  /** The inspections made with some instruments, known at `asKnownAt`, by when they were made. */
  async withInstruments(instrumentIds: readonly string[], asKnownAt: string | null): Promise<Inspection[]> {
    return this.desk.store.select(this.entity, "instrument_id = any($1::uuid[]) and state = 'active'", [instrumentIds], asKnownAt, 'order by observed_at, id');
  }

  /** What was seen of a string, known at `asKnownAt`, by footage. */
  async seenOn(stringId: string, asKnownAt: string | null): Promise<SeenInspection[]> {
    return this.desk.store.selectSome(this.entity, SEEN_PROPERTIES, "string_id = $1 and state = 'active'", [stringId], asKnownAt, 'order by lower(span), id');
  }

  /** The same as it stands now, what was withdrawn too, in any order. */
  async standingSeenOn(stringId: string): Promise<SeenInspection[]> {
    return this.desk.store.selectSome(this.entity, SEEN_PROPERTIES, 'string_id = $1', [stringId], null);
  }

  /** The inspections of a string that were not accepted, known at `asKnownAt`, by when they were made. */
  async notAccepted(stringId: string, asKnownAt: string | null): Promise<Inspection[]> {
    return this.desk.store.select(this.entity, "string_id = $1 and state = 'active' and verdict <> 'accepted'", [stringId], asKnownAt, 'order by observed_at, id');
  }

  /** The inspections of a string that begin on some pipe, of one characteristic or of any (null), known at `asKnownAt`, by footage. */
  async beginningOn(stringId: string, characteristic: string | null, { fromMm, toMm }: Interval, asKnownAt: string | null): Promise<Inspection[]> {
    return this.desk.store.select(
      this.entity, "string_id = $1 and state = 'active' and span && int8range($3, $4) and lower(span) >= $3 and ($2::text is null or characteristic = $2)",
      [stringId, characteristic, fromMm, toMm], asKnownAt, 'order by lower(span), observed_at, id',
    );
  }

  protected async content(tx: Transaction, input: InspectionInput, current: Inspection | null): Promise<Content<Inspection>> {
    refuseHalfSaid(input);
    if (input.instrumentId != null) await this.instruments.named(tx, 'instrumentId', input.instrumentId);
    const place = await this.placeOf(tx, input, { id: current?.id ?? null });
    return Object.assign(place, {
      kind: input.kind,
      characteristic: input.characteristic,
      value: input.value ?? null,
      unit: input.unit ?? null,
      limitMin: input.limitMin ?? null,
      limitMax: input.limitMax ?? null,
      requirement: input.requirement ?? null,
      surface: input.surface ?? null,
      clockHours: input.clockHours ?? null,
      viewing: input.viewing ?? null,
      instrumentId: input.instrumentId ?? null,
      verdict: input.verdict,
      note: input.note ?? null,
    });
  }

  protected override findings(input: InspectionInput): Finding[] {
    return inspectionFindings(input);
  }

  protected present(row: Inspection): InspectionContent {
    const { kind, characteristic, value, unit, limitMin, limitMax, requirement, surface, clockHours, viewing, instrumentId } = row;
    return Object.assign(this.presentPlace(row), {
      kind, characteristic, value, unit, limitMin, limitMax, requirement, surface, clockHours, viewing, instrumentId,
      verdict: row.verdict,
      note: row.note,
    });
  }
}
