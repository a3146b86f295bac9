import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { refusedField } from '../http/problem.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { InstrumentInput, type InstrumentContent } from './instrument.dto.js';
import { Instrument } from './instrument.entity.js';

@Injectable()
export class InstrumentsService extends RecordsService<Instrument, InstrumentInput, InstrumentContent> {
  readonly kind = 'instrument';
  readonly entity = Instrument;
  readonly input = InstrumentInput;
  protected override readonly constraints = {
    uq_instrument_number: { field: 'number', limit: 'a number that no other instrument has' },
  };

  constructor(desk: RecordDesk) {
    super(desk);
  }

  protected content(_tx: Transaction, input: InstrumentInput): Content<Instrument> {
    const { number, kind, name, measures, unit } = input;
    const [rangeMin, rangeMax] = [input.rangeMin ?? null, input.rangeMax ?? null];
    if (rangeMin !== null && rangeMax !== null && Number(rangeMin) >= Number(rangeMax)) {
      throw refusedField('contradiction', 'rangeMax', rangeMax, `more than the ${rangeMin} of rangeMin`);
    }
    return { number, kind, name, measures, unit, rangeMin, rangeMax, resolution: input.resolution ?? null, note: input.note ?? null };
  }

  protected present({ number, kind, name, measures, unit, rangeMin, rangeMax, resolution, note }: Instrument): InstrumentContent {
    return { number, kind, name, measures: [...measures], unit, rangeMin, rangeMax, resolution, note };
  }
}
