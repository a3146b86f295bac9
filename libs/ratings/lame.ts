/** A thick ring under pressure; radii in one unit, pressures and stresses in another. */
export interface ThickWall {
  readonly insideRadius: number;
  readonly outsideRadius: number;
  readonly internalPressure: number;
  readonly externalPressure: number;
  /** Axial force by the cross-section; tension positive. No bending, no torsion. */
  readonly axialStress: number;
}

/** Tension positive. */
export interface PrincipalStresses {
  readonly radial: number;
  readonly hoop: number;
  readonly axial: number;
}

/**
 * Elastic stresses at a radius by Lamé: σ_r = a − b/r², σ_θ = a + b/r² with a = (p_i r_i² − p_e r_o²)/(r_o² − r_i²) and
 * b = (p_i − p_e) r_i² r_o²/(r_o² − r_i²). As ISO/TR 10400 takes them for yield of the pipe body (clause 6, from memory).
 * Throws RangeError unless 0 < r_i < r_o and the radius lies between them, ends included.
 */
export function lameStresses({ insideRadius, outsideRadius, internalPressure, externalPressure, axialStress }: ThickWall, radius: number): PrincipalStresses {
  if (!(insideRadius > 0 && outsideRadius > insideRadius)) throw new RangeError(`radii must be 0 < inside < outside: ${insideRadius}, ${outsideRadius}`);
  if (!(radius >= insideRadius && radius <= outsideRadius)) throw new RangeError(`radius is not from ${insideRadius} to ${outsideRadius}: ${radius}`);
  const [inner, outer] = [insideRadius ** 2, outsideRadius ** 2];
  const mean = (internalPressure * inner - externalPressure * outer) / (outer - inner);
  const spread = ((internalPressure - externalPressure) * inner * outer) / (outer - inner) / radius ** 2;
  return { radial: mean - spread, hoop: mean + spread, axial: axialStress };
}

/** Equivalent stress of von Mises. Yield begins where it reaches the yield strength. */
export function vonMises({ radial, hoop, axial }: PrincipalStresses): number {
  return Math.sqrt(((radial - hoop) ** 2 + (hoop - axial) ** 2 + (axial - radial) ** 2) / 2);
}
