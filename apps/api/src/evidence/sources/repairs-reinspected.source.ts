import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import { EXAMINATIONS, INSPECTIONS, REPAIRS, SPLICE_STEPS, WELDS } from '../../recall/record-kinds.js';
import type { RepairWithOpen } from '../../reinspections/reinspections.service.js';
import type { EvidenceGround } from '../evidence-ground.js';
import type { EvidenceSource } from '../evidence-source.js';
import { GroundRecords } from '../ground-records.service.js';
import type { RecordTestimony } from '../record-testimony.js';
import { spoken, type WordOnPipe } from './word-on-pipe.js';

/** Pipe that was repaired was inspected again, as a repair asks for it. */
@Injectable()
export class RepairsReinspected implements EvidenceSource {
  readonly demands = 'repairs-reinspected';
  readonly restsOn = [REPAIRS, WELDS, EXAMINATIONS, INSPECTIONS, SPLICE_STEPS];
  readonly restsOnSamples = false;

  constructor(private readonly records: GroundRecords) {}

  async testimonies(ground: EvidenceGround): Promise<RecordTestimony[]> {
    return spoken(repairsReinspected(await this.records.repairs(ground), ground.pipe), ground.onTimeFrom);
  }
}

/** What is open after repairs speaks against its pipe; of all other pipe the records say by their absence that no repair of it is open. */
export function repairsReinspected(repairs: readonly RepairWithOpen[], pipe: IntervalSet): WordOnPipe[] {
  const open = repairs.flatMap(({ repair: { row, record }, open: points }) => points.map(({ on, words, before, since }): WordOnPipe => ({
    on: IntervalSet.from(on), says: 'suspect', because: `${record.label} of ${row.observedAt}: ${words}`, records: [record, ...before, ...since], enteredAt: [row.enteredAt],
  })));
  const rest = open.reduce((left, { on }) => left.subtract(on), pipe);
  return [...open, { on: rest, says: 'confirmed', because: 'no repair is open here', records: [], enteredAt: [] }];
}
