import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import { pipeSoFar } from '../inspection-coverage/passed-pipe.js';
import { microseconds } from '#libs/persistence';
import { LengthModels, type StringModel } from '../line/length-models.service.js';
import { RejoinsService } from '../rejoins/rejoins.service.js';
import { CoilSegmentsService } from '../segments/coil-segments.service.js';
import { weldLogOf } from '../signals/weld-log.js';
import { SplicesService } from '../splices/splices.service.js';
import type { EvidenceGround } from './evidence-ground.js';
import { hungOff } from './hung-off.js';

/** Gathers the pipe of a string that evidence is asked of. */
@Injectable()
export class EvidenceGrounds {
  constructor(
    private readonly models: LengthModels,
    private readonly segments: CoilSegmentsService,
    private readonly splices: SplicesService,
    private readonly rejoins: RejoinsService,
  ) {}

  /** As known at an instant, or now. Refuses with 404 when there was no such string. */
  async of(stringId: string, asKnownAt: string | null): Promise<EvidenceGround> {
    const [model, segments, splices, rejoins] = await Promise.all([
      this.models.of(stringId, asKnownAt), this.segments.ofString(stringId, asKnownAt), this.splices.ofString(stringId, asKnownAt), this.rejoins.ofString(stringId, asKnownAt),
    ]);
    const cutOut = IntervalSet.from(model.records.cutOuts.map(({ span }) => span));
    const madeMm = madeBy(model);
    const pipe = madeMm === 0 ? IntervalSet.empty : IntervalSet.of({ fromMm: 0, toMm: madeMm }).subtract(cutOut);
    return { stringId, asKnownAt, model, pipe, cutOut, segments, splices, rejoins, onTimeFrom: hungOff(model), now: null };
  }
}

/** The greatest footage that was ever at the weld point: what was made stays made when the line runs back. */
export function madeBy({ line, string, readings }: StringModel): number {
  const log = weldLogOf(line, string.masterCounter, readings.map(({ observedAt, reading }) => ({ atUs: microseconds(observedAt), reading })));
  return pipeSoFar(line, string.masterCounter, log, null).madeMm;
}
