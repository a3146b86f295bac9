import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { PlacedRecordsService } from '../line/placed-records.service.js';
import { Places } from '../line/places.service.js';
import type { Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import type { Content } from '../records/records.service.js';
import { InspectionInput, type InspectionContent } from './inspection.dto.js';
import { Inspection } from './inspection.entity.js';
import { inspectionFindings, refuseHalfSaid } from './inspection.rules.js';

@Injectable()
export class InspectionsService extends PlacedRecordsService<Inspection, InspectionInput, InspectionContent> {
  readonly kind = 'inspection';
  readonly entity = Inspection;
  readonly input = InspectionInput;
  protected override readonly standsAlone = true;
  protected override readonly filters = { stringId: 'string_id' };

  constructor(desk: RecordDesk, places: Places) {
    super(desk, places);
  }

  protected async content(tx: Transaction, input: InspectionInput, current: Inspection | null): Promise<Content<Inspection>> {
    refuseHalfSaid(input);
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
      verdict: input.verdict,
      note: input.note ?? null,
    });
  }

  protected override findings(input: InspectionInput): Finding[] {
    return inspectionFindings(input);
  }

  protected present(row: Inspection): InspectionContent {
    const { kind, characteristic, value, unit, limitMin, limitMax, requirement, surface, clockHours, viewing } = row;
    return Object.assign(this.presentPlace(row), {
      kind, characteristic, value, unit, limitMin, limitMax, requirement, surface, clockHours, viewing,
      verdict: row.verdict,
      note: row.note,
    });
  }
}
