import type { Interval } from '#libs/intervals';
import { COVERAGE_FACTOR, LengthError, roundMm, type LengthErrorCode, type LengthModel, type Place, type Wall, type WallPiece } from '#libs/length';
import { microseconds } from '#libs/persistence';
import { formatInstant, formatMetres, formatUncertainty, type WallExtent } from '#libs/reports';
import type { StringModel } from '../line/length-models.service.js';

/** Where a string stands by its last counter reading; nothing later is known of it. */
export interface Standing {
  readonly lengths: LengthModel;
  /** The last reading's time, or null when there is none. */
  readonly at: string | null;
  /** Null when no depth can be told; `unknown` says why. */
  readonly walls: { readonly outer: Wall; readonly inner: Wall; readonly shoeMdMm: number } | null;
  readonly unknown: string | null;
}

const NO_ANSWER: Partial<Record<LengthErrorCode, string>> = {
  'no-readings': 'the string has no counter reading yet',
  'before-the-first-reading': 'the first counter reading is later',
  'no-hang-off': 'the string has not been hung off yet',
  'before-the-hang-off': 'the string has not been hung off yet',
  'no-hang-off-path': 'no line set-up says how far the hang-off is from the weld point',
};

/** Why the records give no length, in words. */
function reasonOf(error: unknown): string {
  if (error instanceof LengthError) return NO_ANSWER[error.code] ?? error.message;
  throw error;
}

/** Where a string stands by the last of its counter readings, which are sorted by time. Pure. */
export function standingOf({ lengths, readings }: Pick<StringModel, 'lengths' | 'readings'>): Standing {
  const at = readings.at(-1)?.observedAt ?? null;
  try {
    if (at === null) throw new LengthError('no-readings', 'no counter reading');
    const shoe = lengths.shoeAtTime(microseconds(at));
    const walls = { outer: lengths.outerWall(shoe), inner: lengths.innerWall(shoe), shoeMdMm: roundMm(shoe.mdMm) };
    return { lengths, at, walls, unknown: null };
  } catch (error) {
    return { lengths, at, walls: null, unknown: reasonOf(error) };
  }
}

/** A stretch of a wall with what its depth rests on. */
export interface PlacedOnWall extends WallExtent {
  readonly bases: readonly WallPiece['basisFrom'][];
}

/**
 * The stretches of a footage interval on one wall, from the top down, with the expanded uncertainty of the less certain
 * end. `uFootageMm` is the standard uncertainty of the interval's own ends.
 */
export function placesOn(wall: Wall, footage: Interval, uFootageMm: number): PlacedOnWall[] {
  return wall
    .piecesOfFootage(footage)
    .map((piece) => {
      const middleMm = Math.max((piece.footage.fromMm + piece.footage.toMm) / 2, wall.footageRange.fromMm);
      const uMm = Math.hypot(Math.max(piece.uMdFromMm, piece.uMdToMm), wall.ratioAt(middleMm) * uFootageMm);
      return {
        depth: { fromMm: piece.md.fromMm, toMm: piece.md.toMm },
        uncertaintyMm: Math.ceil(COVERAGE_FACTOR * uMm),
        bases: [piece.basisFrom, piece.basisTo],
      };
    })
    .sort((a, b) => a.depth.fromMm - b.depth.fromMm);
}

/** Where both ends of a footage interval were at a time, in words. */
export function locationAt(lengths: LengthModel, { fromMm, toMm }: Interval, at: string): string {
  try {
    const [first, last] = [fromMm, toMm - 1].map((footageMm) => lengths.placeOf(footageMm, microseconds(at)));
    if (first === undefined || last === undefined) return '';
    if (first.place === last.place) return placeInWords(first);
    return `begins: ${placeInWords(first)}; ends: ${placeInWords(last)}`;
  } catch (error) {
    return `not known: ${reasonOf(error)}`;
  }
}

/** Where both ends of a footage interval are by the last reading, in words. */
export function locationNow({ lengths, at, unknown }: Standing, interval: Interval): string {
  if (at === null) return `not known: ${unknown ?? ''}`;
  return `${locationAt(lengths, interval, at)} (by the last counter reading, ${formatInstant(at)})`;
}

function placeInWords(place: Place): string {
  switch (place.place) {
    case 'not-yet-made':
      return `not made yet, ${metres(place.toMakeMm)} still to come`;
    case 'on-the-line':
      return `on the line, ${metres(place.pathMm)} past the weld point`;
    case 'lead-end':
      return place.aboveHangOffMm === null ? 'lead end' : `lead end, ${metres(place.aboveHangOffMm)} above the hang-off`;
    case 'cut-out':
      return 'cut out of the string';
    case 'outer-wall':
    case 'inner-wall':
      return `${place.place === 'outer-wall' ? 'outer' : 'inner'} wall, measured depth ${metres(place.mdMm)} ` +
        formatUncertainty(Math.ceil(COVERAGE_FACTOR * place.uMm));
  }
}

const metres = (lengthMm: number): string => `${formatMetres(roundMm(lengthMm))} m`;
