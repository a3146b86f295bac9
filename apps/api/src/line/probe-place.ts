import { materialAtStation, type PiecewiseLinearMap } from '#libs/length';

/** Which material is under a probe for a footage at the weld point, and back, while set-up and cut-outs stay what they are. Unrounded mm. */
export class ProbePlace {
  /**
   * @param net the net length map with the cut-outs made by then
   * @param pathMm middle of the station's path distance from the weld point
   * @param setupId the line set-up that says so; null at the weld point
   */
  constructor(private readonly net: PiecewiseLinearMap, readonly pathMm: number, readonly setupId: string | null) {}

  materialMm(weldFootageMm: number): number {
    return materialAtStation(weldFootageMm, this.pathMm, this.net).bestMm;
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
