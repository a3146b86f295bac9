import { Injectable } from '@nestjs/common';
import { CalibrationsService } from '../../calibrations/calibrations.service.js';
import { InstrumentsService } from '../../instruments/instruments.service.js';
import { CALIBRATIONS, INSTRUMENTS } from '../../recall/record-kinds.js';
import { grouped } from '../../suppliers/grouped.js';
import { siteClock } from '../../wells/site-time.js';
import type { EvidenceGround } from '../evidence-ground.js';
import type { EvidenceSource } from '../evidence-source.js';
import { GroundRecords } from '../ground-records.service.js';
import type { RecordTestimony } from '../record-testimony.js';
import { instrumentJudge, instrumentsOf, instrumentWords, type InstrumentsKnown, type KnownInstrument } from './instruments-valid.js';
import { KeptWords } from './kept-words.js';
import { StringWork, WORK_RESTS_ON } from './string-work.service.js';

/** What the pipe was measured with was good, on the local day of the work and by all that was found out since. */
@Injectable()
export class InstrumentsValid implements EvidenceSource {
  readonly demands = 'instruments-valid';
  readonly restsOn = [...WORK_RESTS_ON, INSTRUMENTS, CALIBRATIONS];
  readonly restsOnSamples = false;

  constructor(
    private readonly work: StringWork,
    private readonly instruments: InstrumentsService,
    private readonly calibrations: CalibrationsService,
    private readonly records: GroundRecords,
  ) {}

  async testimonies(ground: EvidenceGround): Promise<RecordTestimony[]> {
    const [work, timeZone] = await Promise.all([this.work.of(ground), this.records.timeZone(ground)]);
    const known = await this.known(instrumentsOf(work), ground.asKnownAt);
    const { said } = this.words.of(ground, () => JSON.stringify([timeZone, ...known]), () => ({ judge: instrumentJudge(known), momentOf: siteClock(timeZone) }));
    return work.flatMap(said);
  }

  private readonly words = new KeptWords((piece, { judge, momentOf }: InstrumentsKnown) => instrumentWords([piece], judge, momentOf));

  private async known(ids: readonly string[], asKnownAt: string | null): Promise<ReadonlyMap<string, KnownInstrument>> {
    const [rows, calibrations] = await Promise.all([this.instruments.rowsByIds(ids, asKnownAt), this.calibrations.ofInstruments(ids, asKnownAt)]);
    const byInstrument = grouped(calibrations, ({ instrumentId }) => instrumentId);
    return new Map([...rows].map(([id, row]) => [id, { row, calibrations: byInstrument.get(id) ?? [] }]));
  }
}
