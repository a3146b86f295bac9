/** Rules of EN 10051 for hot-rolled strip, beside its tables of thickness tolerances. */

export type YieldCategory = 'A' | 'B' | 'C' | 'D';
export type StripEdge = 'mill' | 'trimmed';

/**
 * Category of thickness tolerance by specified minimum yield: A up to 300 MPa, B up to 360, C up to 420, D up to 900;
 * null above. Throws RangeError unless over 0. Source: a mill's tolerance table reproducing EN 10051:2010.
 */
export function categoryOfYield(minimumYieldMpa: number): YieldCategory | null {
  requirePositive('minimum yield', minimumYieldMpa, 'MPa');
  if (minimumYieldMpa <= 300) return 'A';
  if (minimumYieldMpa <= 360) return 'B';
  if (minimumYieldMpa <= 420) return 'C';
  return minimumYieldMpa <= 900 ? 'D' : null;
}

/**
 * What the 1991 edition multiplies the tolerance of category A by. Not applied by default: that edition gives no rounding
 * rule, and the 2010 edition prints tables of its own for B, C and D. Source: a trade page with the wording of 1991.
 */
export const EN_10051_FACTORS_1991: Readonly<Record<Exclude<YieldCategory, 'A'>, string>> = { B: '1.15', C: '1.30', D: '1.40' };

/** A greatest camber, over the length on which it holds. */
export interface CamberLimit {
  readonly maxMm: number;
  readonly baseMm: number;
}

/**
 * Greatest camber: 0.5 % of a length below 5 m; otherwise, from a width of 600 mm, 20 mm (mill edge) or 15 mm (trimmed) in
 * any 5 m. Null for a narrower strip of 5 m or more, of which the source says nothing. Throws RangeError unless both are
 * over 0. Source: a summary of BS EN 10051:1992.
 */
export function camberLimit(lengthMm: number, widthMm: number, edge: StripEdge): CamberLimit | null {
  requirePositive('length', lengthMm, 'mm');
  requirePositive('width', widthMm, 'mm');
  if (lengthMm < 5000) return { maxMm: lengthMm / 200, baseMm: lengthMm };
  if (widthMm < 600) return null;
  return { maxMm: edge === 'mill' ? 20 : 15, baseMm: 5000 };
}

/** Greatest out-of-squareness of a cut length, 1 % of its actual width, mm. Source as for camber. @throws RangeError unless over 0 */
export function squarenessLimitMm(widthMm: number): number {
  requirePositive('width', widthMm, 'mm');
  return widthMm / 100;
}

/**
 * How much longer than ordered a cut length may be, mm; it may not be shorter: 10 mm below 2 m, 0.5 % up to 8 m, 40 mm above.
 * Source as for camber. Throws RangeError unless over 0.
 */
export function lengthTolerancePlusMm(lengthMm: number): number {
  requirePositive('length', lengthMm, 'mm');
  if (lengthMm < 2000) return 10;
  return lengthMm <= 8000 ? lengthMm / 200 : 40;
}

/**
 * Length at each uncropped end of a hot-rolled coil that may be out of tolerance: 90/t, at most 20, m, with t in mm.
 * Source: a mill's page on hot-rolled strip to EN 10051. Throws RangeError unless over 0.
 */
export function uncroppedEndLengthM(thicknessMm: number): number {
  requirePositive('thickness', thicknessMm, 'mm');
  return Math.min(20, 90 / thicknessMm);
}

function requirePositive(what: string, value: number, unit: string): void {
  if (!(value > 0 && Number.isFinite(value))) throw new RangeError(`${what} must be over 0 ${unit}: ${value}`);
}
