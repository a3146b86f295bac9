import { IntervalSet } from '#libs/intervals';
import type { LengthModel, Place, Shoe } from '#libs/length';

export type PlaceName = Place['place'];

/** Footage by the place where it is; a partition: nothing twice, nothing left out. */
export type FootageByPlace = Readonly<Record<PlaceName, IntervalSet>>;

/**
 * Where a set of footage is at a time: the same answers as LengthModel.placeOf gives for each whole millimetre.
 * @param shoe the shoe at that time; null before the string was hung off
 * @throws LengthError 'no-readings' or 'before-the-first-reading'
 */
export function placesOfFootage(footage: IntervalSet, lengths: LengthModel, atUs: number, shoe: Shoe | null): FootageByPlace {
  const removed = lengths.nets.removedBy(atUs);
  const standing = footage.subtract(removed);
  const made = below(standing, lengths.maxWeldFootage(atUs));
  const byPlace = {
    'cut-out': footage.intersect(removed),
    'not-yet-made': standing.subtract(made),
  };
  if (shoe === null) {
    const leadEnd = below(made, leadEndMm(lengths, atUs));
    return { ...byPlace, 'lead-end': leadEnd, 'on-the-line': made.subtract(leadEnd), 'outer-wall': IntervalSet.empty, 'inner-wall': IntervalSet.empty };
  }
  const leadEnd = below(made, lengths.hangOff.footageMm);
  const toOuter = below(made, lengths.outerWall(shoe).footageRange.toMm);
  const toInner = below(made, lengths.innerWall(shoe).footageRange.toMm);
  return {
    ...byPlace,
    'lead-end': leadEnd,
    'outer-wall': toOuter.subtract(leadEnd),
    'inner-wall': toInner.subtract(toOuter).subtract(leadEnd),
    'on-the-line': made.subtract(toInner).subtract(leadEnd),
  };
}

/** Before the hang-off, what is past the station where the string will hang. */
function leadEndMm(lengths: LengthModel, atUs: number): number {
  const path = lengths.findHangOffPath(atUs);
  if (path === null) return 0;
  const net = lengths.nets.at(atUs);
  return net.upperInverseAt(net.at(lengths.weldFootageAt(atUs).footageMm) - path.pathMm);
}

/** The whole millimetres p of a set with p < boundary. */
function below(footage: IntervalSet, boundaryMm: number): IntervalSet {
  const toMm = Math.ceil(boundaryMm);
  return toMm > 0 ? footage.intersect({ fromMm: 0, toMm }) : IntervalSet.empty;
}
