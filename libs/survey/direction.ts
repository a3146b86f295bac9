const RADIANS_PER_DEGREE = Math.PI / 180;

/** Below this dogleg (rad) the ratio factor is taken from its series, where tan(x)/x would lose digits. */
const SERIES_BELOW_RAD = 1e-4;

/** A unit vector along the hole, in the direction of growing measured depth. */
export interface Tangent {
  readonly north: number;
  readonly east: number;
  readonly down: number;
}

/** An inclination from the vertical and an azimuth from north, both in degrees. */
export interface Attitude {
  readonly inclinationDeg: number;
  readonly azimuthDeg: number;
}

/** Degrees to radians. */
export function toRadians(angleDeg: number): number {
  return angleDeg * RADIANS_PER_DEGREE;
}

/** Radians to degrees. */
export function toDegrees(angleRad: number): number {
  return angleRad / RADIANS_PER_DEGREE;
}

/** The cosine of an inclination, exactly 0 at 90 degrees: a horizontal hole must not creep in depth. */
function cosineOfInclination(inclinationDeg: number): number {
  return Math.sin(toRadians(90 - inclinationDeg));
}

/** The sine of an inclination, exactly 0 at 0 and 180 degrees, where the azimuth must not matter. */
function sineOfInclination(inclinationDeg: number): number {
  return Math.sin(toRadians(inclinationDeg > 90 ? 180 - inclinationDeg : inclinationDeg));
}

/** The unit tangent (sin I cos A, sin I sin A, cos I) of an inclination and an azimuth. */
export function tangentOf({ inclinationDeg, azimuthDeg }: Attitude): Tangent {
  const horizontal = sineOfInclination(inclinationDeg);
  const azimuthRad = toRadians(azimuthDeg);
  return {
    north: horizontal * Math.cos(azimuthRad),
    east: horizontal * Math.sin(azimuthRad),
    down: cosineOfInclination(inclinationDeg),
  };
}

/**
 * Inclination 0..180 and azimuth 0..360 (360 excluded) of a tangent.
 * A vertical tangent has no azimuth: `azimuthWhenVerticalDeg` is returned for it.
 */
export function attitudeOf(tangent: Tangent, azimuthWhenVerticalDeg: number): Attitude {
  const horizontal = Math.hypot(tangent.north, tangent.east);
  const inclinationDeg = toDegrees(Math.atan2(horizontal, tangent.down));
  if (horizontal < 1e-12) {
    return { inclinationDeg, azimuthDeg: azimuthWhenVerticalDeg };
  }
  const azimuthDeg = (toDegrees(Math.atan2(tangent.east, tangent.north)) + 360) % 360;
  return { inclinationDeg, azimuthDeg };
}

/**
 * The dogleg (rad, 0..pi) between two attitudes:
 * sin^2(dl/2) = sin^2((I2-I1)/2) + sin I1 sin I2 sin^2((A2-A1)/2), the half-angle form of
 * cos dl = cos(I2-I1) - sin I1 sin I2 (1 - cos(A2-A1)), which keeps its digits at small doglegs. Its companion
 * cos^2(dl/2) = cos^2((I1+I2)/2) + sin I1 sin I2 cos^2((A2-A1)/2) keeps them near pi.
 */
export function doglegRad(from: Attitude, to: Attitude): number {
  const sines = sineOfInclination(from.inclinationDeg) * sineOfInclination(to.inclinationDeg);
  const halfTurnRad = toRadians((to.azimuthDeg - from.azimuthDeg) / 2);
  const halfBuild = Math.sin(toRadians((to.inclinationDeg - from.inclinationDeg) / 2));
  const meanCosine = cosineOfInclination((from.inclinationDeg + to.inclinationDeg) / 2);
  const sineSquared = halfBuild ** 2 + sines * Math.sin(halfTurnRad) ** 2;
  const cosineSquared = meanCosine ** 2 + sines * Math.cos(halfTurnRad) ** 2;
  return 2 * Math.atan2(Math.sqrt(sineSquared), Math.sqrt(cosineSquared));
}

/** The ratio factor (2/dl) tan(dl/2) of minimum curvature, by its series 1 + dl^2/12 + dl^4/120 near 0; dl < pi. */
export function ratioFactor(angleRad: number): number {
  if (angleRad < SERIES_BELOW_RAD) {
    return 1 + angleRad ** 2 / 12 + angleRad ** 4 / 120;
  }
  return (2 / angleRad) * Math.tan(angleRad / 2);
}

/** The tangent at fraction `f` of a dogleg: (sin((1-f) dl) u1 + sin(f dl) u2) / sin dl; the chord when dl is 0. */
export function tangentAlong(from: Tangent, to: Tangent, angleRad: number, fraction: number): Tangent {
  const sine = Math.sin(angleRad);
  const fromWeight = sine === 0 ? 1 - fraction : Math.sin((1 - fraction) * angleRad) / sine;
  const toWeight = sine === 0 ? fraction : Math.sin(fraction * angleRad) / sine;
  return {
    north: fromWeight * from.north + toWeight * to.north,
    east: fromWeight * from.east + toWeight * to.east,
    down: fromWeight * from.down + toWeight * to.down,
  };
}
