import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { HeatInput, type HeatContent } from './heat.dto.js';
import { Heat } from './heat.entity.js';

@Injectable()
export class HeatsService extends RecordsService<Heat, HeatInput, HeatContent> {
  readonly kind = 'heat';
  readonly entity = Heat;
  readonly input = HeatInput;
  protected override readonly effect = 'shows';
  protected override readonly constraints = {
    uq_heat_number: { field: 'number', limit: 'a heat number that no other heat has' },
  };

  constructor(desk: RecordDesk) {
    super(desk);
  }

  protected content(_tx: Transaction, input: HeatInput): Content<Heat> {
    const { number, grade } = input;
    return { number, steelmaker: input.steelmaker ?? null, grade, castOn: input.castOn ?? null };
  }

  protected present({ number, steelmaker, grade, castOn }: Heat): HeatContent {
    return { number, steelmaker, grade, castOn };
  }
}
