import { stationsAhead, type LengthModel, type Place, type Shoe } from '#libs/length';
import type { LineStation } from '../line/line-knowledge.js';

/** What is known of the pipe at the weld point with the shoe at a depth, mm. */
export interface WeldAtShoe {
  /** Net length there: n_shoe + D + x. */
  readonly netMm: number;
  /** Its standard uncertainty. */
  readonly uMm: number;
}

/**
 * The pipe at the weld point with the shoe at a depth: n(F) = n_shoe + D + x, D the depth below the hang-off and x the
 * path from weld point to hang-off in the last line set-up. @throws LengthError 'no-hang-off-path'
 */
export function weldAtShoe(lengths: LengthModel, shoe: Shoe): WeldAtShoe {
  const path = lengths.hangOffPathAt(shoe.atUs);
  return {
    netMm: shoe.netMm + shoe.depthBelowHangOffMm + path.pathMm,
    uMm: Math.hypot(shoe.spread.fixedMm, path.uPathMm),
  };
}

/**
 * Where a footage is with the shoe at a depth and no time given: every cut-out recorded counts as done, and how far the
 * line had come follows from the shoe, not from the counter. @throws LengthError as LengthModel.outerWall and weldAtShoe
 */
export function placeAtShoe(lengths: LengthModel, footageMm: number, shoe: Shoe, stations: readonly LineStation[]): Place {
  const cutOut = lengths.nets.findCutOut(footageMm, shoe.atUs);
  if (cutOut !== null) return { place: 'cut-out', record: cutOut.record };
  const net = lengths.wellNets.at(shoe.atUs);
  const outer = lengths.outerWall(shoe);
  const inner = lengths.innerWall(shoe);
  const aboveHangOffMm = net.at(lengths.hangOff.footageMm) - net.at(footageMm);
  if (aboveHangOffMm > 0) return { place: 'lead-end', aboveHangOffMm };
  if (footageMm < outer.footageRange.toMm) return { place: 'outer-wall', ...outer.mdAt(footageMm) };
  if (footageMm < inner.footageRange.toMm) return { place: 'inner-wall', ...inner.mdAt(footageMm) };
  const pathMm = weldAtShoe(lengths, shoe).netMm - net.at(footageMm);
  if (pathMm <= 0) return { place: 'not-yet-made', toMakeMm: -pathMm };
  return { place: 'on-the-line', pathMm, toStations: stationsAhead(pathMm, stations) };
}
