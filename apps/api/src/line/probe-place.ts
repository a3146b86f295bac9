import type { PiecewiseLinearMap } from '#libs/length';

/** Which material is under a probe for a footage at the weld point, and back, while set-up and cut-outs stay what they are. Unrounded mm. */
export class ProbePlace {
  /**
   * @param net the net length map with the cut-outs made by then
   * @param pathMm middle of the station's path distance from the weld point
   * @param setupId the line set-up that says so; null at the weld point
   */
  constructor(private readonly net: PiecewiseLinearMap, readonly pathMm: number, readonly setupId: string | null) {}

  materialMm(weldFootageMm: number): number {
    return this.pathMm < 0 ? weldFootageMm - this.pathMm : this.net.upperInverseAt(this.net.at(weldFootageMm) - this.pathMm);
  }

  /** Whether the material moves in proportion to the footage at the weld point from one to the other: no cut or end of pipe lies between. */
  isStraight(oneMm: number, otherMm: number): boolean {
    if (this.pathMm < 0) return true;
    const spans = [[oneMm, otherMm], [this.materialMm(oneMm), this.materialMm(otherMm)]].map((ends) => ({ low: Math.min(...ends), high: Math.max(...ends) }));
    return !this.net.knots.some(({ x }) => spans.some(({ low, high }) => x > low && x < high));
  }

  /** The footage at the weld point when this material is under the probe; of removed pipe, when the material above it is. */
  weldFootageMm(materialMm: number): number {
    return this.pathMm < 0 ? materialMm + this.pathMm : this.net.upperInverseAt(this.net.at(materialMm) + this.pathMm);
  }

  /** Whether both stand for the same material, whatever the footage at the weld point. */
  isAs(other: ProbePlace): boolean {
    return this.net === other.net && this.pathMm === other.pathMm && this.setupId === other.setupId;
  }
}
