/** Of a nominal wall, what 12.5 % undertolerance leaves (API 5CT). A measured minimum counts in full. */
export const NOMINAL_WALL_FACTOR = 0.875;
export const MEASURED_WALL_FACTOR = 1;

/**
 * Internal pressure at which the pipe body yields, by Barlow: p = k · 2 Y t/D, in the unit of the yield strength Y, with
 * x = D/t and k as above. API Bull. 5C3 (clause 3.1 from memory).
 * Throws RangeError unless Y is over 0, k is over 0 and at most 1, and x over 2.
 */
export function barlowInternalYield(yieldStrength: number, dOverT: number, wallFactor: number): number {
  demandSensible(yieldStrength, dOverT, wallFactor);
  return (2 * wallFactor * yieldStrength) / dOverT;
}

/**
 * Internal pressure at which the bore of a pipe without axial force begins to yield, in the unit of the yield strength Y:
 *   p = Y (D² − d²) / √(3 D⁴ + d⁴),  d = D − 2 k t
 * from the stresses of Lamé and the criterion of von Mises at r_i, σ_z = 0 (derived here; as ISO/TR 10400 has it, clause 6
 * from memory). With closed ends the bore begins to yield later: no axial force is the lower of the two.
 * Throws RangeError unless Y is over 0, k is over 0 and at most 1, and x = D/t over 2.
 */
export function triaxialInternalYield(yieldStrength: number, dOverT: number, wallFactor: number): number {
  demandSensible(yieldStrength, dOverT, wallFactor);
  const bore = 1 - (2 * wallFactor) / dOverT;
  return (yieldStrength * (1 - bore ** 2)) / Math.sqrt(3 + bore ** 4);
}

function demandSensible(yieldStrength: number, dOverT: number, wallFactor: number): void {
  if (!(yieldStrength > 0 && Number.isFinite(yieldStrength))) throw new RangeError(`yield strength must be over 0: ${yieldStrength}`);
  if (!(wallFactor > 0 && wallFactor <= 1)) throw new RangeError(`wall factor must be over 0 and at most 1: ${wallFactor}`);
  if (!(dOverT > 2 && Number.isFinite(dOverT))) throw new RangeError(`D/t must be over 2: ${dOverT}`);
}
