import type { Interval } from '#libs/intervals';
import type { ChartBoundary, ChartExclusion } from './chart-ground.js';

/** Of each window, in rising footage, the pipe around it up to the nearest boundary, pipe that is left out, or end of the interval. */
export function reachesOf(windows: readonly Interval[], asked: Interval, boundaries: readonly Pick<ChartBoundary, 'atMm'>[], exclusions: readonly Pick<ChartExclusion, 'fromMm' | 'toMm'>[]): Interval[] {
  const cuts = [asked.fromMm, asked.toMm, ...boundaries.map(({ atMm }) => atMm), ...exclusions.flatMap(({ fromMm, toMm }) => [fromMm, toMm])].sort((a, b) => a - b);
  let next = 0;
  return windows.map(({ fromMm, toMm }) => {
    while (next < cuts.length && (cuts[next] as number) <= fromMm) next += 1;
    // No window has a cut within.
    return { fromMm: cuts[next - 1] ?? fromMm, toMm: cuts[next] ?? toMm };
  });
}
