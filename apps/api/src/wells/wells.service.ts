import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { WellInput, type WellContent } from './well.dto.js';
import { Well } from './well.entity.js';

@Injectable()
export class WellsService extends RecordsService<Well, WellInput, WellContent> {
  readonly kind = 'well';
  readonly entity = Well;
  readonly input = WellInput;
  protected override readonly effect = 'shows';
  protected override readonly constraints = {
    uq_well_name: { field: 'name', limit: 'a name that no other well has' },
  };

  constructor(desk: RecordDesk) {
    super(desk);
  }

  protected content(_tx: Transaction, input: WellInput): Content<Well> {
    return { name: input.name, datum: input.datum, timeZone: input.timeZone ?? 'UTC', note: input.note ?? null };
  }

  protected present({ name, datum, timeZone, note }: Well): WellContent {
    return { name, datum, timeZone, note };
  }
}
