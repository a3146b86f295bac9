import { COVERAGE_FACTOR, outerWallThicknessMm } from '#libs/length';

/** κ or λ with its standard uncertainty; null where that is not known. */
export interface FoldRatio {
  readonly value: number;
  readonly u: number | null;
}

/** The outer wall as it follows from the pipe before the fold; uncertainties expanded (k = 2), null where one of κ and λ has none. */
export interface FoldedWall {
  readonly wallThicknessMm: number;
  readonly outsideDiameterMm: number;
  readonly expandedUWallMm: number | null;
  readonly expandedUDiameterMm: number | null;
}

/**
 * t_outer = t / (κ λ), D_outer = κ (D − t) + t_outer, and what the uncertainties of κ and λ, taken as independent, make of both by
 * the law of propagation (GUM, JCGM 100:2008, 5.1.2). Those of t and D are not in it. Throws RangeError unless all are positive.
 */
export function foldedWall(outsideDiameterMm: number, wallThicknessMm: number, kappa: FoldRatio, lambda: FoldRatio): FoldedWall {
  const outerMm = outerWallThicknessMm(wallThicknessMm, kappa.value, lambda.value);
  const meanMm = outsideDiameterMm - wallThicknessMm;
  const sizes = { wallThicknessMm: outerMm, outsideDiameterMm: kappa.value * meanMm + outerMm };
  if (kappa.u === null || lambda.u === null) return { ...sizes, expandedUWallMm: null, expandedUDiameterMm: null };
  const [byKappa, byLambda] = [-outerMm / kappa.value, -outerMm / lambda.value];
  const expanded = (ofKappa: number, uKappa: number, uLambda: number): number => COVERAGE_FACTOR * Math.hypot(ofKappa * uKappa, byLambda * uLambda);
  return { ...sizes, expandedUWallMm: expanded(byKappa, kappa.u, lambda.u), expandedUDiameterMm: expanded(meanMm + byKappa, kappa.u, lambda.u) };
}
