import { Injectable } from '@nestjs/common';
import type { UncertainSegment } from '#libs/length';
import { CutOutsService } from '../line/cut-outs.service.js';
import type { PlacedVersion } from '../line/placed.entity.js';
import { RejoinsService } from '../rejoins/rejoins.service.js';
import { SplicesService } from '../splices/splices.service.js';
import type { WorkPlace } from './measured-record.js';

/** Finds the pipe that work was done on. */
@Injectable()
export class WorkPlaces {
  constructor(
    private readonly splices: SplicesService,
    private readonly rejoins: RejoinsService,
    private readonly cutOuts: CutOutsService,
  ) {}

  /**
   * The footage of some places, for each in turn. None for strip, and for a splice or re-join that was withdrawn. A re-join is
   * the last millimetre before the gap that it closed and the first one after it.
   */
  async pipeOf(places: readonly WorkPlace[], asKnownAt: string | null): Promise<UncertainSegment[][]> {
    const [splices, rejoins] = await Promise.all([
      this.splices.rowsByIds(places.flatMap((place) => (place.on === 'splice' ? [place.spliceId] : [])), asKnownAt),
      this.rejoins.rowsByIds(places.flatMap((place) => (place.on === 'rejoin' ? [place.rejoinId] : [])), asKnownAt),
    ]);
    const cutOuts = await this.cutOuts.rowsByIds([...rejoins.values()].map(({ cutOutId }) => cutOutId), asKnownAt);
    return places.map((place): UncertainSegment[] => {
      if (place.on === 'pipe') return [place.span];
      if (place.on === 'coil' || place.on === 'string') return [];
      if (place.on === 'splice') return activeSpan(splices.get(place.spliceId));
      const rejoin = rejoins.get(place.rejoinId);
      return rejoin?.state === 'active' ? activeSpan(cutOuts.get(rejoin.cutOutId)).flatMap(endsOf) : [];
    });
  }
}

function activeSpan(row: PlacedVersion | undefined): UncertainSegment[] {
  return row?.state === 'active' ? [{ ...row.span, uFromMm: Number(row.fromUMm), uToMm: Number(row.toUMm) }] : [];
}

/** The millimetres on both sides of a gap. */
function endsOf({ fromMm, toMm, uFromMm, uToMm }: UncertainSegment): UncertainSegment[] {
  const before = { fromMm: fromMm - 1, toMm: fromMm, uFromMm, uToMm: uFromMm };
  const after = { fromMm: toMm, toMm: toMm + 1, uFromMm: uToMm, uToMm };
  return fromMm > 0 ? [before, after] : [after];
}
