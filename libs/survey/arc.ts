import { type Attitude, doglegRad, ratioFactor, type Tangent, tangentAlong, tangentOf } from './direction.js';

/** Below this dogleg (rad) a kilometre of hole departs from its chord by less than 1e-6 mm. */
const STRAIGHT_BELOW_RAD = 1e-12;

/** How far one point of the hole lies from another, north, east and down. */
export interface Displacement {
  readonly northMm: number;
  readonly eastMm: number;
  readonly tvdMm: number;
}

/**
 * The circular arc of minimum curvature between two neighbouring stations. Distances `alongMm` run from its upper
 * station, 0 to `lengthMm`. Formulas: the minimum-curvature equations as printed in directional-survey practice.
 */
export class Arc {
  readonly fromTangent: Tangent;
  readonly toTangent: Tangent;
  readonly doglegRad: number;

  /** @param lengthMm the step in measured depth, above 0; the dogleg must be below pi. */
  constructor(
    readonly from: Attitude,
    readonly to: Attitude,
    readonly lengthMm: number,
  ) {
    this.fromTangent = tangentOf(from);
    this.toTangent = tangentOf(to);
    this.doglegRad = doglegRad(from, to);
  }

  /** The unit tangent at a distance along the arc. */
  tangentAt(alongMm: number): Tangent {
    return tangentAlong(this.fromTangent, this.toTangent, this.doglegRad, alongMm / this.lengthMm);
  }

  /** From the upper station to a distance along the arc: the minimum-curvature step to the tangent there. */
  displacementAt(alongMm: number): Displacement {
    const reached = this.tangentAt(alongMm);
    const half = (alongMm / 2) * ratioFactor((alongMm / this.lengthMm) * this.doglegRad);
    return {
      northMm: half * (this.fromTangent.north + reached.north),
      eastMm: half * (this.fromTangent.east + reached.east),
      tvdMm: half * (this.fromTangent.down + reached.down),
    };
  }

  /**
   * Where the hole is horizontal strictly inside the arc, or undefined. The tangent's downward part is a sinusoid whose
   * zeros lie pi apart, so an arc below pi has at most one, and only between ends of opposite sign:
   * tan(phi) = |u1| sin(dl) / (|u1| cos(dl) + |u2|).
   */
  turningPointMm(): number | undefined {
    const { down: first } = this.fromTangent;
    const { down: last } = this.toTangent;
    if (first * last >= 0) {
      return undefined;
    }
    if (this.doglegRad < STRAIGHT_BELOW_RAD) {
      return (this.lengthMm * first) / (first - last);
    }
    const rise = Math.abs(first) * Math.sin(this.doglegRad);
    const run = Math.abs(first) * Math.cos(this.doglegRad) + Math.abs(last);
    return (this.lengthMm * Math.atan2(rise, run)) / this.doglegRad;
  }

  /**
   * The distance along the arc at which it has gone down by `dropMm`, on the stretch where it goes down (`direction` 1)
   * or up (-1). With p the downward part of the upper tangent, q that of the direction it bends to, eta = drop dl/L and
   * x = tan(phi/2), the drop 2x(p + qx)/(1 + x^2) = eta is a quadratic whose discriminant is the square of the downward
   * tangent at the answer. Each root is taken in the form that does not subtract like from like.
   */
  distanceOfDropMm(dropMm: number, direction: 1 | -1): number {
    const p = this.fromTangent.down;
    if (this.doglegRad < STRAIGHT_BELOW_RAD) {
      return (2 * dropMm) / (p + this.toTangent.down);
    }
    const q = (this.toTangent.down - p * Math.cos(this.doglegRad)) / Math.sin(this.doglegRad);
    const eta = (dropMm * this.doglegRad) / this.lengthMm;
    const down = direction * Math.sqrt(Math.max(0, p * p + eta * (2 * q - eta)));
    const halfPhi =
      p * direction >= 0
        ? Math.atan2(Math.abs(eta), Math.abs(p + down))
        : Math.atan2(Math.abs(down - p), Math.abs(2 * q - eta));
    return (2 * halfPhi * this.lengthMm) / this.doglegRad;
  }
}
