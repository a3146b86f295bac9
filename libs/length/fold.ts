/**
 * The wall at the fold. κ = mean diameter of the outer wall / mean diameter of the inner wall; λ = length ratio.
 * Constant volume: (hoop ratio κ) · (length ratio λ) · (thickness ratio) = 1.
 * A strip's thickness is therefore never quoted as the outer wall's.
 */

/** t_outer = t_inner / (κ λ), mm. @throws RangeError unless all are positive */
export function outerWallThicknessMm(innerThicknessMm: number, kappa: number, lambda: number): number {
  if (!(innerThicknessMm > 0 && kappa > 0 && lambda > 0)) {
    throw new RangeError(`thickness ${innerThicknessMm} mm, κ ${kappa} and λ ${lambda} must be positive`);
  }
  return innerThicknessMm / (kappa * lambda);
}

/** Logarithmic hoop strain of the fold, ln κ. @throws RangeError unless κ is positive */
export function foldHoopStrain(kappa: number): number {
  if (!(kappa > 0)) throw new RangeError(`κ ${kappa} must be positive`);
  return Math.log(kappa);
}
