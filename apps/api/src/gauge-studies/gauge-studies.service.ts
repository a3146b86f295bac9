import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { contradictory } from '../http/problem.js';
import { InstrumentsService } from '../instruments/instruments.service.js';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { gaugeResult, studied } from './gauge-result.js';
import { GaugeStudyInput, type GaugeResultAnswer, type GaugeStudyContent } from './gauge-study.dto.js';
import { GaugeStudyVersion } from './gauge-study.entity.js';

@Injectable()
export class GaugeStudiesService extends RecordsService<GaugeStudyVersion, GaugeStudyInput, GaugeStudyContent> {
  readonly kind = 'gauge study';
  readonly entity = GaugeStudyVersion;
  readonly input = GaugeStudyInput;
  protected override readonly filters = { instrumentId: 'instrument_id' };
  /** A study holds up to a thousand readings. */
  protected override readonly longestPage = 50;

  constructor(desk: RecordDesk, private readonly instruments: InstrumentsService) {
    super(desk);
  }

  /** What the study says of the instrument. Refuses with 404 when there was no such study. */
  async result(id: string, asKnownAt: string | null): Promise<GaugeResultAnswer> {
    return gaugeResult(await this.row(id, asKnownAt));
  }

  protected async content(tx: Transaction, input: GaugeStudyInput): Promise<Content<GaugeStudyVersion>> {
    const { instrumentId, characteristic, unit } = input;
    const content = {
      instrumentId, characteristic, unit, tolerance: input.tolerance ?? null,
      readings: input.readings.map(({ part, appraiser, trial, value }) => ({ part, appraiser, trial, value })), note: input.note ?? null,
    };
    demandBalance(content);
    await this.instruments.named(tx, 'instrumentId', instrumentId);
    return content;
  }

  protected present({ instrumentId, characteristic, unit, tolerance, readings, note }: GaugeStudyVersion): GaugeStudyContent {
    return { instrumentId, characteristic, unit, tolerance, readings: [...readings], note };
  }
}

/** The study itself says what is missing. */
function demandBalance(content: Pick<GaugeStudyVersion, 'readings' | 'tolerance'>): void {
  try {
    studied(content);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw contradictory([{ field: 'readings', value: `${content.readings.length} readings`, limit: error.message }]);
  }
}
