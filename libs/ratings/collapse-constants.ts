/**
 * The constants of the API collapse formulas, from the yield strength in psi. A, B and C are the polynomials of
 * API Bull. 5C3 (1985); F and G follow from them so that transition collapse touches elastic collapse. The coefficients were
 * read in a formula sheet and in open code; the bulletin itself was not at hand, so its clause is from memory (2.1).
 */
export interface CollapseConstants {
  readonly a: number;
  readonly b: number;
  readonly cPsi: number;
  readonly f: number;
  readonly g: number;
}

/** p_E = this / (x (x − 1)²), psi, with x = D/t: elastic collapse, API Bull. 5C3. */
export const ELASTIC_PSI = 46.95e6;

/**
 * The yield strengths for which rows of collapse pressures were found in print: H-40 to V-150. Above some 165,000 psi the
 * polynomials fall with rising yield (computed here), so that nothing is told outside.
 */
export const COLLAPSE_YIELD_PSI = { from: 40_000, to: 150_000 } as const;

/** Dimensionless but for `cPsi`. Throws RangeError unless the yield strength is in `COLLAPSE_YIELD_PSI`. */
export function collapseConstants(yieldPsi: number): CollapseConstants {
  const { from, to } = COLLAPSE_YIELD_PSI;
  if (!(yieldPsi >= from && yieldPsi <= to)) throw new RangeError(`yield strength must be from ${from} to ${to} psi for the collapse constants: ${yieldPsi}`);
  const a = 2.8762 + 0.10679e-5 * yieldPsi + 0.21301e-10 * yieldPsi ** 2 - 0.53132e-16 * yieldPsi ** 3;
  const b = 0.026233 + 0.50609e-6 * yieldPsi;
  const cPsi = -465.93 + 0.030867 * yieldPsi - 0.10483e-7 * yieldPsi ** 2 + 0.36989e-13 * yieldPsi ** 3;
  const ratio = b / a;
  const tangent = (3 * ratio) / (2 + ratio);
  const f = (ELASTIC_PSI * tangent ** 3) / (yieldPsi * (tangent - ratio) * (1 - tangent) ** 2);
  return { a, b, cPsi, f, g: f * ratio };
}
