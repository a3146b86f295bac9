/**
 * Three independent sums for the same pipe must agree: strip consumed (coil lengths less crops less rests, times the
 * forming elongation), pipe made (counter), and pipe in place (outer wall / λ + inner wall + line + cut-outs + lead end).
 * Each disagreement is shown in mm, with its standard uncertainty and its likely causes.
 */
import type { RecordRef } from '#libs/explanation';
import type { LengthModel } from './length-model.js';
import { COVERAGE_FACTOR, rootSumOfSquares } from './uncertainty.js';

export type SumName = 'strip consumed' | 'pipe made' | 'pipe in place';

export interface LengthSum {
  name: SumName;
  mm: number;
  uMm: number;
  parts: { name: string; mm: number; record?: RecordRef }[];
}

/** A coil as far as this string used it; u: standard uncertainty of its length. */
export interface CoilUse {
  record: RecordRef;
  lengthMm: number;
  uLengthMm: number;
  cropsMm: number;
  restMm: number;
}

export interface SumDifference {
  of: SumName;
  less: SumName;
  mm: number;
  uMm: number;
  /** True beyond k = 2 standard uncertainties. */
  isExceeded: boolean;
  /** What usually makes a difference of this sign; empty unless exceeded. */
  likelyCauses: readonly string[];
}

/** u² = Σ (e u_L)² + (u_e · strip)², with e the elongation: mm of pipe per mm of strip. */
export function stripConsumed(coils: readonly CoilUse[], elongation: { ratio: number; u: number }): LengthSum {
  const parts = coils.map(({ record, lengthMm, cropsMm, restMm }) => {
    return { name: `coil ${record.id}`, mm: lengthMm - cropsMm - restMm, record };
  });
  const stripMm = total(parts);
  return {
    name: 'strip consumed',
    mm: stripMm * elongation.ratio,
    uMm: rootSumOfSquares(...coils.map(({ uLengthMm }) => elongation.ratio * uLengthMm), stripMm * elongation.u),
    parts,
  };
}

/** The greatest footage reached by then; u² = u_F² + (s F)². @throws LengthError as LengthModel.weldFootageAt */
export function pipeMade(model: LengthModel, atUs: number): LengthSum {
  const mm = model.maxWeldFootage(atUs);
  const uMm = rootSumOfSquares(model.weldFootageAt(atUs).uMm, model.lengths.scaleRelativeU * mm);
  return { name: 'pipe made', mm, uMm, parts: [{ name: 'footage by the counter', mm }] };
}

/**
 * Pipe between the two ends with the shoe at a measured depth, by the default ratio, not by the counter:
 * n_h + D/λ + D + x + cut-outs; u² = u_nh² + u_x² + ((1 + 1/λ) u_D)² + (D u_λ / λ²)², u_D² = u_shoe² + u_mdh².
 * @throws LengthError 'no-hang-off', 'no-hang-off-path' or 'above-the-hang-off'
 */
export function pipeInPlace(model: LengthModel, shoe: { shoeMdMm: number; uShoeMm: number; atUs: number }): LengthSum {
  const { hangOff, nets } = model;
  const { lambda, u } = model.lengths.defaultRatio;
  const path = model.hangOffPathAt(shoe.atUs);
  const { depthBelowHangOffMm } = model.shoeAt({ shoeMdMm: shoe.shoeMdMm, atUs: shoe.atUs });
  const parts = [
    { name: 'lead end', mm: nets.at(shoe.atUs).at(hangOff.footageMm), record: hangOff.record },
    { name: 'outer wall, as pipe before the fold', mm: depthBelowHangOffMm / lambda },
    { name: 'inner wall', mm: depthBelowHangOffMm },
    { name: 'line, weld point to hang-off', mm: path.pathMm, record: path.record },
    { name: 'cut-outs', mm: nets.removedBy(shoe.atUs).totalLengthMm },
  ];
  const uDepthMm = rootSumOfSquares(shoe.uShoeMm, hangOff.uMdMm);
  const uMm = rootSumOfSquares(hangOff.uFootageMm, path.uPathMm, (1 + 1 / lambda) * uDepthMm, (depthBelowHangOffMm * u) / lambda ** 2);
  return { name: 'pipe in place', mm: total(parts), uMm, parts };
}

/** Every sum less every later one. */
export function compareSums(sums: readonly LengthSum[]): SumDifference[] {
  return sums.flatMap((a, index) => sums.slice(index + 1).map((b) => difference(a, b)));
}

function difference(a: LengthSum, b: LengthSum): SumDifference {
  const mm = a.mm - b.mm;
  const uMm = rootSumOfSquares(a.uMm, b.uMm);
  const isExceeded = Math.abs(mm) > COVERAGE_FACTOR * uMm;
  const [greater, smaller] = mm > 0 ? [a.name, b.name] : [b.name, a.name];
  const likelyCauses = isExceeded ? [...TOO_GREAT[greater], ...TOO_SMALL[smaller]] : [];
  return { of: a.name, less: b.name, mm, uMm, isExceeded, likelyCauses };
}

/** Common practice, no published source. */
const TOO_GREAT: Record<SumName, readonly string[]> = {
  'strip consumed': ['a crop or a rest that was not recorded', 'a coil recorded that was not run', 'strip thinner or narrower on record than in fact'],
  'pipe made': ['counter scale too great', 'a reset recorded at too great a footage', 'a reversal counted as pipe made'],
  'pipe in place': ['shoe depth read too deep', 'a cut-out recorded that was not made, or too long', 'length ratio taken too small'],
};

const TOO_SMALL: Record<SumName, readonly string[]> = {
  'strip consumed': ['a coil that was not recorded', 'a crop or a rest recorded too long', 'strip thicker or wider on record than in fact'],
  'pipe made': ['counter slip', 'counter scale too small', 'a reset recorded at too small a footage'],
  'pipe in place': ['a cut-out that was not recorded', 'shoe depth read too shallow', 'length ratio taken too great'],
};

function total(parts: readonly { mm: number }[]): number {
  return parts.reduce((sum, { mm }) => sum + mm, 0);
}
