/**
 * Ties that agree with one another: of points in order of time, the longest chain that rises strictly in both n and
 * depth from a fixed start. A single wrong tie then drops out by itself, wherever it stands, instead of shutting out
 * the right ones after it. Of chains equally long, the one whose points came first.
 */
export interface RisingPoint {
  netMm: number;
  mdMm: number;
}

interface Chain<Point> {
  last: Point;
  previous: Chain<Point> | null;
  size: number;
}

/** The points of the longest rising chain, in order; O(k²) for k points. */
export function risingChain<Point extends RisingPoint>(start: RisingPoint, points: readonly Point[]): Point[] {
  const chains: Chain<Point>[] = [];
  for (const point of points.filter((candidate) => isRise(start, candidate))) {
    const previous = longest(chains.filter(({ last }) => isRise(last, point)));
    chains.push({ last: point, previous, size: (previous?.size ?? 0) + 1 });
  }
  const chosen: Point[] = [];
  for (let chain = longest(chains); chain !== null; chain = chain.previous) chosen.unshift(chain.last);
  return chosen;
}

function isRise(from: RisingPoint, to: RisingPoint): boolean {
  return to.netMm > from.netMm && to.mdMm > from.mdMm;
}

function longest<Point>(chains: readonly Chain<Point>[]): Chain<Point> | null {
  return chains.reduce<Chain<Point> | null>((best, chain) => (chain.size > (best?.size ?? 0) ? chain : best), null);
}
