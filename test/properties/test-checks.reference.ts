/**
 * What a flattening and a flaring must meet, in whole hundredths of a millimetre and of a percent, written down anew from the
 * words of the demands: no fractions, no library.
 */

/** All in hundredths; null where nobody recorded it. */
export interface PlainFlattening {
  readonly diameter: number;
  readonly wall: number;
  readonly piece: number | null;
  readonly plate: number | null;
  readonly distance: number | null;
  /** The deformation constant, in hundredths. */
  readonly constant: number | null;
  readonly cracks: readonly { readonly length: number; readonly atEdge: boolean }[] | null;
}

export type PlainOutcome = 'met' | 'not met' | 'not computable';

const said = (isMet: boolean): PlainOutcome => (isMet ? 'met' : 'not met');
const known = (value: number | null, isMet: (value: number) => boolean): PlainOutcome => (value === null ? 'not computable' : said(isMet(value)));

export function plainFlattening({ diameter, wall, piece, plate, distance, constant, cracks }: PlainFlattening): Record<string, PlainOutcome> {
  // distance ≤ (1 + e) t / (e + t/D), with e = c/100: distance · (c D + 100 t) ≤ (100 + c) t D.
  const isNear = (at: number): boolean => constant !== null && at * (constant * diameter + 100 * wall) <= (100 + constant) * wall * diameter;
  // Longer than 3.20 mm, unless at an edge and below 6.40 mm.
  const isBad = ({ length, atEdge }: { length: number; atEdge: boolean }): boolean => length > 320 && !(atEdge && length < 640);
  return {
    'outside diameter': said(diameter <= 60_000),
    'wall thickness': said(100 * wall <= 15 * diameter),
    'piece length': known(piece, (length) => length >= 1_000 && length <= 10_000),
    'plate width': known(plate, (width) => 10 * width >= 16 * diameter),
    'plate distance': constant === null ? 'not computable' : known(distance, isNear),
    cracks: cracks === null ? 'not computable' : said(!cracks.some(isBad)),
    'seam position': 'not computable',
  };
}

/** All in hundredths; the angle in whole degrees. */
export interface PlainFlaring {
  readonly diameter: number;
  readonly piece: number | null;
  readonly cone: number | null;
  readonly flared: number | null;
  /** Demanded expansion, in whole percent. */
  readonly percent: number | null;
  readonly isCracked: boolean | null;
}

export function plainFlaring({ diameter, piece, cone, flared, percent, isCracked }: PlainFlaring): Record<string, PlainOutcome> {
  return {
    'piece length': known(piece, (length) => 2 * length >= 3 * diameter && length >= 5_000),
    'cone angle': known(cone, (angle) => angle === 45 || angle === 60),
    'expansion of the outside diameter': percent === null ? 'not computable' : known(flared, (wide) => 100 * (wide - diameter) >= percent * diameter),
    cracks: isCracked === null ? 'not computable' : said(!isCracked),
  };
}
