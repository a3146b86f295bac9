/**
 * The length model of one string: every map between footage, net length and the depths of both walls, with refusals and
 * uncertainty. Built once from the recorded inputs, immutable, and cheap to ask: each answer is a few binary searches.
 */
import { outerWallThicknessMm } from './fold.js';
import { innerWallMap } from './inner-wall-map.js';
import { LengthError } from './length-error.js';
import { NetLengths } from './net-lengths.js';
import { OuterWallMap, type DepthBasis } from './outer-wall-map.js';
import { stationsAhead, type Place, type Station } from './place.js';
import { shoeAtDepth, shoeFromWeldFootage, type Shoe, type ShoeQuestion } from './shoe.js';
import { materialAtStation, type PathDistance, type StationMaterial } from './stations.js';
import type { HangOff, HangOffPath, StringLengths } from './string-lengths.js';
import { uOnInnerWall } from './uncertainty.js';
import { Wall } from './wall.js';
import { WeldFootages, type WeldFootageFigure } from './weld-footage.js';

const SHOE_FROM_COUNTER: DepthBasis = 'counted back from the weld point';

export class LengthModel {
  /** Net length as it was at each time. */
  readonly nets: NetLengths;
  /**
   * Net length as the well counts it: what was cut from the lead end, above the hang-off, moves nothing that hangs, so
   * it counts as removed at all times. Otherwise a lead end trimmed later would shift every tie made before.
   */
  readonly wellNets: NetLengths;
  private readonly weldFootages: WeldFootages;
  private readonly hangOffPaths: readonly HangOffPath[];
  private outerWallMap: OuterWallMap | null = null;

  /** @throws LengthError 'empty-interval', 'reversed-interval' or 'bad-input' for inputs that contradict themselves */
  constructor(readonly lengths: StringLengths) {
    const { lambda } = lengths.defaultRatio;
    if (!(Number.isFinite(lambda) && lambda > 0)) throw new LengthError('bad-input', `the default length ratio is ${lambda}`);
    this.nets = new NetLengths(lengths.cutOuts);
    const hangOffFootageMm = lengths.hangOff?.footageMm ?? -Infinity;
    this.wellNets = new NetLengths(lengths.cutOuts.map((cut) => (cut.toMm <= hangOffFootageMm ? { ...cut, atUs: -Infinity } : cut)));
    this.weldFootages = new WeldFootages(lengths.weldFootage);
    this.hangOffPaths = [...lengths.hangOffPath].sort((a, b) => b.validFromUs - a.validFromUs);
  }

  /** The outer wall's known points and map. @throws LengthError 'no-hang-off', or 'no-hang-off-path' at a tie */
  get outer(): OuterWallMap {
    this.outerWallMap ??= new OuterWallMap(this.lengths, this.hangOff, this.wellNets, (atUs) => this.hangOffPathAt(atUs));
    return this.outerWallMap;
  }

  /** @throws LengthError 'no-hang-off' */
  get hangOff(): HangOff {
    if (this.lengths.hangOff === null) throw new LengthError('no-hang-off', 'this string has no hang-off yet');
    return this.lengths.hangOff;
  }

  /** The line's path distance to the hang-off in the set-up valid at a time, or null. */
  findHangOffPath(atUs: number): HangOffPath | null {
    return this.hangOffPaths.find(({ validFromUs }) => validFromUs <= atUs) ?? null;
  }

  /** @throws LengthError 'no-hang-off-path' */
  hangOffPathAt(atUs: number): HangOffPath {
    const path = this.findHangOffPath(atUs);
    if (path !== null) return path;
    throw new LengthError('no-hang-off-path', `no path distance from weld point to hang-off is recorded for ${atUs} µs`);
  }

  /** Footage at the weld point at a time. @throws LengthError 'no-readings' or 'before-the-first-reading' */
  weldFootageAt(atUs: number): WeldFootageFigure {
    return this.weldFootages.at(atUs);
  }

  /** Pipe made by then (mm, unrounded), unaffected by reversals. @throws as weldFootageAt */
  maxWeldFootage(atUs: number): number {
    return this.weldFootages.maxAt(atUs);
  }

  /** Which material is at a station at a time. @throws as weldFootageAt */
  materialAt(path: PathDistance | number, atUs: number): StationMaterial {
    return materialAtStation(this.weldFootageAt(atUs).footageMm, path, this.nets.at(atUs));
  }

  /**
   * Outer wall thickness (mm) of pipe that was this thick before the fold, by the local λ; null when κ is not known.
   * @throws LengthError as Wall.mdAt
   */
  outerThicknessMm(footageMm: number, innerThicknessMm: number): number | null {
    const { kappa } = this.lengths;
    if (kappa === null) return null;
    return outerWallThicknessMm(innerThicknessMm, kappa, this.outerWall().ratioAt(footageMm));
  }

  /**
   * The shoe at a depth, or when a footage is at the weld point.
   * @throws LengthError 'no-hang-off', 'before-the-hang-off', 'above-the-hang-off' or 'no-hang-off-path'
   */
  shoeAt(question: ShoeQuestion): Shoe {
    const { atUs: hangOffUs } = this.hangOff;
    if (question.atUs !== undefined && question.atUs < hangOffUs) {
      throw new LengthError('before-the-hang-off', `${question.atUs} µs is before the hang-off at ${hangOffUs} µs: nothing hangs yet`);
    }
    if ('shoeMdMm' in question) return shoeAtDepth(this.outer, question);
    const weldNetMm = this.wellNets.at(question.atUs).at(question.weldFootageMm);
    return shoeFromWeldFootage(this.outer, question, weldNetMm, this.hangOffPathAt(question.atUs));
  }

  /** The shoe at a time, from the footage readings around it. @throws as shoeAt and weldFootageAt */
  shoeAtTime(atUs: number): Shoe {
    const { footageMm, uMm } = this.weldFootageAt(atUs);
    return this.shoeAt({ weldFootageMm: footageMm, uWeldFootageMm: uMm, atUs });
  }

  /** The outer wall down to a shoe; without one, as far as the pipe may ever reach. @throws as `outer` */
  outerWall(shoe: Shoe | null = null): Wall {
    const { outer } = this;
    const atUs = shoe?.atUs ?? Infinity;
    return new Wall({
      name: 'outer',
      net: this.wellNets.at(atUs),
      depth: outer.map,
      removed: this.wellNets.removedBy(atUs),
      fromNetMm: outer.hangOffNetMm,
      toNetMm: shoe?.netMm ?? Infinity,
      ratioAt: (netMm) => outer.lambdaAt(netMm),
      uAt: (netMm) => outer.uAt(netMm),
      basisAt: (netMm) => outer.basisAt(netMm),
    });
  }

  /** The inner wall above a shoe. */
  innerWall(shoe: Shoe): Wall {
    const basis = shoe.counted === null ? shoe.basis : SHOE_FROM_COUNTER;
    return new Wall({
      name: 'inner',
      net: this.wellNets.at(shoe.atUs),
      depth: innerWallMap(shoe),
      removed: this.wellNets.removedBy(shoe.atUs),
      fromNetMm: shoe.netMm,
      toNetMm: shoe.netMm + shoe.depthBelowHangOffMm,
      ratioAt: () => 1,
      uAt: (netMm) => uOnInnerWall(shoe.spread, netMm, this.lengths.scaleRelativeU),
      basisAt: () => basis,
    });
  }

  /**
   * Where a footage is at a time: exactly one answer. The shoe is found from the readings unless it is given.
   * @throws LengthError 'no-readings', 'before-the-first-reading', and once hung off 'no-hang-off-path' or 'above-the-hang-off'
   */
  placeOf(footageMm: number, atUs: number, stations: readonly Station[] = [], shoe: Shoe | null = null): Place {
    const cutOut = this.nets.findCutOut(footageMm, atUs);
    if (cutOut !== null) return { place: 'cut-out', record: cutOut.record };
    const toMakeMm = footageMm - this.maxWeldFootage(atUs);
    if (toMakeMm >= 0) return { place: 'not-yet-made', toMakeMm };

    const net = this.nets.at(atUs);
    const pathMm = net.at(this.weldFootageAt(atUs).footageMm) - net.at(footageMm);
    const onTheLine = (): Place => ({ place: 'on-the-line', pathMm, toStations: stationsAhead(pathMm, stations) });
    const { hangOff } = this.lengths;
    if (hangOff === null || atUs < hangOff.atUs) {
      const hangOffPathMm = this.findHangOffPath(atUs)?.pathMm ?? Infinity;
      return pathMm > hangOffPathMm ? { place: 'lead-end', aboveHangOffMm: null } : onTheLine();
    }
    const aboveHangOffMm = net.at(hangOff.footageMm) - net.at(footageMm);
    if (aboveHangOffMm > 0) return { place: 'lead-end', aboveHangOffMm };
    const atShoe = { ...(shoe ?? this.shoeAtTime(atUs)), atUs };
    const outer = this.outerWall(atShoe);
    if (footageMm < outer.footageRange.toMm) return { place: 'outer-wall', ...outer.mdAt(footageMm) };
    const inner = this.innerWall(atShoe);
    return footageMm < inner.footageRange.toMm ? { place: 'inner-wall', ...inner.mdAt(footageMm) } : onTheLine();
  }
}
