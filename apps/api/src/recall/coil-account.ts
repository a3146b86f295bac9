import { IntervalSet, type Interval } from '#libs/intervals';
import { COVERAGE_FACTOR, roundMm } from '#libs/length';
import { knownCoilLength, type CoilSizes, type KnownCoilLength } from '../reconciliation/known-coil-length.js';

export interface AccountedCoil extends CoilSizes {
  readonly cropMm: number;
  readonly restMm: number;
}

/** Where the strip of a coil went, mm. */
export interface CoilAccount {
  readonly lengthMm: number;
  readonly lengthPlusMinusMm: number;
  readonly basis: KnownCoilLength['basis'];
  readonly usedMm: number;
  readonly cropMm: number;
  readonly restMm: number;
  /** Strip positions that no segment on any string was made of, crops and rest among them. */
  readonly notUsed: readonly Interval[];
  /** Length less what was used, cropped and left over: positive when strip is missing, negative when there is too much. */
  readonly unaccountedMm: number;
}

/** Where the strip of a coil went, by its segments on all strings. */
export function coilAccount(coil: AccountedCoil, strips: readonly Interval[]): CoilAccount {
  const { mm, uMm, basis } = knownCoilLength(coil);
  const used = IntervalSet.from(strips);
  const lengthMm = roundMm(mm);
  return {
    lengthMm,
    lengthPlusMinusMm: Math.ceil(COVERAGE_FACTOR * uMm),
    basis,
    usedMm: used.totalLengthMm,
    cropMm: coil.cropMm,
    restMm: coil.restMm,
    notUsed: used.complementWithin({ fromMm: 0, toMm: lengthMm }).intervals,
    unaccountedMm: lengthMm - used.totalLengthMm - coil.cropMm - coil.restMm,
  };
}
