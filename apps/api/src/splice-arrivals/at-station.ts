/** A splice at a station of the line: when it is expected there, and whether the counter stood there when it was seen. */
import {
  COVERAGE_FACTOR, materialAtStation, rootSumOfSquares, roundMm, type NetLengths, type PathDistance, type PiecewiseLinearMap,
} from '#libs/length';
import { gateOf, type Gate } from './gate.js';
import type { Reach } from './reach.js';

/** A footage with its standard uncertainty, mm. */
export interface Uncertain {
  readonly mm: number;
  readonly uMm: number;
}

/** What of a string's lengths says when material is where. */
export interface RunningLine {
  readonly nets: NetLengths;
  readonly reach: Reach;
  /** Relative standard uncertainty of the counter's scale. */
  readonly scaleRelativeU: number;
}

/**
 * Footage at the weld point when the material p is first at path distance x: n(F) = n(p) + x, with the cut-outs made by then;
 * p + x upstream, where nothing is cut out yet. More cuts only make F greater, so the search ends. Unrounded, mm.
 */
export function weldFootageWhenAt(placeMm: number, pathMm: number, { nets, reach }: RunningLine): number {
  if (pathMm < 0) return placeMm + pathMm;
  const withCutsBy = (atUs: number): number => {
    const net = nets.at(atUs);
    const footageMm = net.upperInverseAt(net.at(placeMm) + pathMm);
    const reachedUs = reach.firstUs(footageMm) ?? Infinity;
    return reachedUs <= atUs || nets.at(reachedUs) === net ? footageMm : withCutsBy(reachedUs);
  };
  return withCutsBy(-Infinity);
}

/** The gate of the footage at the weld point in which material is to be at a station: over the range of its path, u² = u_p² + u_x² + (s x)². */
export function windowAt({ mm, uMm }: Uncertain, path: PathDistance, line: RunningLine): Gate {
  const at = (pathMm: number): number => weldFootageWhenAt(mm, pathMm, line);
  const farthestMm = Math.max(Math.abs(path.minMm), Math.abs(path.maxMm));
  return gateOf({
    bestMm: at((path.minMm + path.maxMm) / 2), leastMm: at(path.minMm), mostMm: at(path.maxMm),
    uMm: rootSumOfSquares(uMm, path.uMm, line.scaleRelativeU * farthestMm),
  });
}

/** The future footage of strip seen at a station upstream: F − x over the range of its path, u² = u_F² + u_x². */
export function futureFootage(weld: Uncertain, path: PathDistance): Gate {
  return gateOf({
    bestMm: weld.mm - (path.minMm + path.maxMm) / 2, leastMm: weld.mm - path.maxMm, mostMm: weld.mm - path.minMm, uMm: rootSumOfSquares(weld.uMm, path.uMm),
  });
}

/** Where the splice should have been when it was seen, against where it is. */
export interface SightingComparison {
  /** Material at the station by the stated distance less the place of the splice, whole mm. */
  readonly differenceMm: number;
  /** Expanded uncertainty (k = 2) with half the range of the path, mm rounded up. */
  readonly plusMinusMm: number;
  readonly agrees: boolean;
  readonly words: string;
}

/** @param net net length with the cut-outs made by the time of the sighting */
export function compareSighting(place: Uncertain, weld: Uncertain, path: PathDistance, seen: { net: PiecewiseLinearMap; scaleRelativeU: number }): SightingComparison {
  const material = materialAtStation(weld.mm, path, seen.net);
  const farthestMm = Math.max(Math.abs(path.minMm), Math.abs(path.maxMm));
  const uMm = rootSumOfSquares(place.uMm, weld.uMm, path.uMm, seen.scaleRelativeU * farthestMm);
  const rangeMm = Math.max(material.bestMm - material.fromMm, material.toMm - material.bestMm);
  const differenceMm = roundMm(material.bestMm - place.mm);
  const plusMinusMm = Math.ceil(COVERAGE_FACTOR * uMm + rangeMm);
  const agrees = Math.abs(differenceMm) <= plusMinusMm;
  return { differenceMm, plusMinusMm, agrees, words: sightingWords(differenceMm, plusMinusMm, agrees) };
}

function sightingWords(differenceMm: number, plusMinusMm: number, agrees: boolean): string {
  if (agrees) return `seen where the stated distance says, ${differenceMm} mm off within ± ${plusMinusMm} mm`;
  const [later, farther] = differenceMm > 0 ? ['later', 'farther from'] : ['earlier', 'nearer to'];
  return `seen ${Math.abs(differenceMm)} mm ${later} than the stated distance says, which ± ${plusMinusMm} mm does not explain: the station may stand ${farther} `
    + 'the weld point than the set-up says, or the counter, the time of the sighting or the place of the splice is wrong';
}
