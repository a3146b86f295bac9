/** Where is this metre? One answer for any footage, at a time. */
import type { RecordRef } from '#libs/explanation';
import type { PathDistance } from './stations.js';
import type { DepthFigure } from './wall.js';

/** A station that the material may still pass. */
export interface Station {
  name: string;
  path: PathDistance;
}

/** How far the material still has to go to a station: best, least and most. */
export interface DistanceToStation {
  name: string;
  bestMm: number;
  minMm: number;
  maxMm: number;
  /** Standard uncertainty that the station's path distance gives to each. */
  uMm: number;
}

export type Place =
  /** `toMakeMm`: pipe still to be made before it. */
  | { place: 'not-yet-made'; toMakeMm: number }
  /** `pathMm`: distance past the weld point, negative after a reversal. */
  | { place: 'on-the-line'; pathMm: number; toStations: DistanceToStation[] }
  | ({ place: 'inner-wall' } & DepthFigure)
  | ({ place: 'outer-wall' } & DepthFigure)
  /** `aboveHangOffMm`: net length above the hang-off; null before the string is hung off. */
  | { place: 'lead-end'; aboveHangOffMm: number | null }
  | { place: 'cut-out'; record: RecordRef };

/** The stations still ahead of material at this path distance, nearest first. */
export function stationsAhead(pathMm: number, stations: readonly Station[]): DistanceToStation[] {
  return stations
    .filter(({ path }) => path.maxMm > pathMm)
    .map(({ name, path }) => ({
      name,
      bestMm: (path.minMm + path.maxMm) / 2 - pathMm,
      minMm: path.minMm - pathMm,
      maxMm: path.maxMm - pathMm,
      uMm: path.uMm,
    }))
    .sort((a, b) => a.bestMm - b.bestMm);
}
