/**
 * Minimum elongation after fracture on a 2 in (50 mm) gauge length that API 5L and API 5CT ask for:
 *   A_f = C · A_xc^0.2 / U^0.9
 * with A_xc the cross-section of the test piece, at most 485 mm² (0.75 in²), and U the specified minimum tensile strength.
 * C = 1940 in mm² and MPa, 625 000 in in² and psi. Source: API 5L, footnote of Tables 6 and 7; an API 5CT property sheet.
 */
export const ELONGATION_SI = { constant: 1940, areaCapMm2: 485 } as const;
export const ELONGATION_USC = { constant: 625_000, areaCapIn2: 0.75 } as const;

/** Minimum elongation in %, not rounded, of a test piece in mm² at a tensile strength in MPa. @throws RangeError unless both are over 0 */
export function minimumElongationPercent(areaMm2: number, tensileMpa: number): number {
  requirePositive('cross-section', areaMm2, 'mm²');
  requirePositive('tensile strength', tensileMpa, 'MPa');
  return (ELONGATION_SI.constant * Math.min(areaMm2, ELONGATION_SI.areaCapMm2) ** 0.2) / tensileMpa ** 0.9;
}

/** The same of a test piece in in² at a tensile strength in psi; differs by 0.2 % of itself, as the printed constants do. */
export function minimumElongationUscPercent(areaIn2: number, tensilePsi: number): number {
  requirePositive('cross-section', areaIn2, 'in²');
  requirePositive('tensile strength', tensilePsi, 'psi');
  return (ELONGATION_USC.constant * Math.min(areaIn2, ELONGATION_USC.areaCapIn2) ** 0.2) / tensilePsi ** 0.9;
}

/**
 * Minimum elongation of API 5L, %: rounded to the nearest whole percent (API 5L, footnote of Tables 6 and 7), a half upwards.
 * Throws RangeError unless both are over 0.
 */
export function minimumElongation5lPercent(areaMm2: number, tensileMpa: number): number {
  return Math.round(minimumElongationPercent(areaMm2, tensileMpa));
}

function requirePositive(what: string, value: number, unit: string): void {
  if (!(value > 0 && Number.isFinite(value))) throw new RangeError(`${what} must be over 0 ${unit}: ${value}`);
}
