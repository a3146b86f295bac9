/** Density of carbon steel used for lengths from mass, kg/m³ (from memory: the round figure of steel product standards). */
export const STEEL_DENSITY_KG_PER_M3 = 7850;

/**
 * Length of a coil's strip from its mass, m / (ρ w t), mm. It inherits the relative error of the thickness: it catches a
 * missing coil, not counter slip. @throws RangeError unless all are positive
 */
export function coilLengthMm(massKg: number, widthMm: number, thicknessMm: number, densityKgPerM3 = STEEL_DENSITY_KG_PER_M3): number {
  if (!(massKg > 0 && widthMm > 0 && thicknessMm > 0 && densityKgPerM3 > 0)) {
    const given = `mass ${massKg} kg, width ${widthMm} mm, thickness ${thicknessMm} mm, density ${densityKgPerM3} kg/m³`;
    throw new RangeError(`${given}: each must be positive`);
  }
  // kg / (kg/m³ · mm²) is 10⁶ m, that is 10⁹ mm.
  return (massKg / (densityKgPerM3 * widthMm * thicknessMm)) * 1e9;
}
