/**
 * Standard uncertainties (1σ, mm, unrounded) of the positions that the length maps give, by the law of propagation of
 * uncertainty (GUM, JCGM 100:2008, 5.1.2; fully correlated inputs added linearly, 5.2.2). Shown elsewhere with k = 2.
 * λ is the local length ratio, s the relative standard uncertainty of the counter's scale.
 */

/** Coverage factor of every expanded uncertainty shown (GUM, JCGM 100:2008, 6.2). */
export const COVERAGE_FACTOR = 2;

/** u = √(Σ uᵢ²), for independent contributions already multiplied by their sensitivities. */
export function rootSumOfSquares(...contributionsMm: number[]): number {
  return Math.hypot(...contributionsMm);
}

/** Outer wall at the hang-off: md = md_h + λ (n − n_h), hence u = √(u_md² + (λ u_n)²). */
export function uAtHangOff(uMdMm: number, uNetMm: number, lambda: number): number {
  return rootSumOfSquares(uMdMm, lambda * uNetMm);
}

export interface TieUncertainties {
  uShoeMm: number;
  uPathMm: number;
  uHangOffMdMm: number;
  /** Pipe between the weld point and the shoe, x + D. */
  behindWeldMm: number;
  lambda: number;
  scaleRelativeU: number;
}

/**
 * Outer wall at a shoe tie, at fixed n. The tie rests n_shoe = n(F) − x − (md_shoe − md_h) at md_shoe, so a depth error δ
 * moves the point by δ in depth and −δ in n: (1 + λ) δ in depth at fixed n. Errors of x and of md_h move n alone. The
 * x + D of pipe behind the weld point was counted with a scale in doubt by s, which moves n by s (x + D):
 * u = √( ((1+λ) u_shoe)² + (λ u_x)² + (λ u_mdh)² + (λ s (x + D))² ).
 */
export function uAtTie(tie: TieUncertainties): number {
  const { lambda } = tie;
  return rootSumOfSquares(
    (1 + lambda) * tie.uShoeMm,
    lambda * tie.uPathMm,
    lambda * tie.uHangOffMdMm,
    lambda * tie.scaleRelativeU * tie.behindWeldMm,
  );
}

/** A known point of the outer wall: its uncertainty, and how much net length away it is. */
export interface KnownPoint {
  uMm: number;
  distanceMm: number;
}

/**
 * Outer wall between two known points, d1 and d2 of net length away: the uncertainty bridges.
 * u = √( ((1−f) u1 + f u2)² + (λ s d1 d2 / (d1 + d2))² ), f = d1 / (d1 + d2).
 * The end points share their datum, path and method, so their errors are taken as fully correlated: taken as independent,
 * they would average out and make a point between two ties better known than either. As d2 → ∞ the bridge grows as d1.
 */
export function uBetween(before: KnownPoint, after: KnownPoint, lambda: number, scaleRelativeU: number): number {
  const spanMm = before.distanceMm + after.distanceMm;
  const f = before.distanceMm / spanMm;
  const bridgeMm = (before.distanceMm * after.distanceMm) / spanMm;
  return rootSumOfSquares((1 - f) * before.uMm + f * after.uMm, lambda * scaleRelativeU * bridgeMm);
}

/** Outer wall d past the last known point: u = √( u_last² + (λ s d)² + (u_λ d)² ). */
export function uPast(last: KnownPoint, lambda: number, scaleRelativeU: number, uLambda: number): number {
  return rootSumOfSquares(last.uMm, lambda * scaleRelativeU * last.distanceMm, uLambda * last.distanceMm);
}

/**
 * Shoe depth found from the weld footage: g(n) + n = n(F) − x + md_h. With N = n(F) − x and e the error of the outer map
 * at the shoe, dn = (dN − e) / (1 + λ) and dmd = λ dn + e, hence u = √( (λ u_N)² + u_e² ) / (1 + λ), u_N² = u_x² + u_F².
 */
export function uOfShoeFromFootage(uOuterMm: number, uPathMm: number, uWeldFootageMm: number, lambda: number): number {
  return rootSumOfSquares(lambda * uPathMm, lambda * uWeldFootageMm, uOuterMm) / (1 + lambda);
}

/**
 * Inner wall: u = √( fixed² + (s (n0 − n))² ).
 * Shoe found from the weld footage F: D cancels, md = md_h − x + n(F) − n, so fixed² = u_mdh² + u_x² + u_F² and n0 = n(F).
 * Shoe given as a depth: md = md_shoe − (n − n_shoe), so fixed = u_outer(n_shoe) / λ and n0 = n_shoe.
 */
export function uOnInnerWall(spread: { fixedMm: number; countedFromNetMm: number }, netMm: number, scaleRelativeU: number): number {
  return rootSumOfSquares(spread.fixedMm, scaleRelativeU * (spread.countedFromNetMm - netMm));
}
