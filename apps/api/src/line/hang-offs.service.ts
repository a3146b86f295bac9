import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { outside, type Finding } from '../records/plausibility.js';
import { RecordDesk } from '../records/record-desk.js';
import type { Content } from '../records/records.service.js';
import { HangOffInput, type HangOffContent } from './hang-off.dto.js';
import { HangOffVersion } from './hang-off.entity.js';
import { PlacedRecordsService } from './placed-records.service.js';
import { Places } from './places.service.js';

/** A pipe hangs near the top of the hole. Common practice, no published source. */
const USUAL_MD_MM = { min: 0, max: 50_000, unit: 'mm' };

@Injectable()
export class HangOffsService extends PlacedRecordsService<HangOffVersion, HangOffInput, HangOffContent> {
  readonly kind = 'hang-off';
  readonly entity = HangOffVersion;
  readonly input = HangOffInput;
  protected override readonly effect = 'shows';
  protected override readonly filters = { stringId: 'string_id' };
  protected override readonly constraints = {
    uq_hang_off_string_id: { field: 'stringId', limit: 'a string without a hang-off: one string hangs at one place' },
  };

  constructor(desk: RecordDesk, places: Places) {
    super(desk, places);
  }

  protected async content(tx: Transaction, input: HangOffInput, current: HangOffVersion | null): Promise<Content<HangOffVersion>> {
    const place = await this.placeOf(tx, input, { id: current?.id ?? null });
    return { ...place, mdMm: input.mdMm, mdUMm: input.mdUMm, note: input.note ?? null };
  }

  protected override findings({ mdMm }: HangOffInput): Finding[] {
    return outside('implausible', 'mdMm', mdMm, USUAL_MD_MM);
  }

  protected present(row: HangOffVersion): HangOffContent {
    return { ...this.presentPlace(row), mdMm: row.mdMm, mdUMm: row.mdUMm, note: row.note };
  }
}
