import type { Charted, ChartSignal } from '#libs/charting';

/** Which point of the row a signal is at: the last of those that its point of the panel is made of. */
export function signallingPoint({ panels }: Charted, { panel, point }: ChartSignal): number {
  const found = panels[panel]?.points[point];
  if (found === undefined) throw new Error(`a signal without its point: ${panel}, ${point}`);
  return found.to;
}

/** The points of the row that make the pattern of a signal, in order. */
export function patternOf({ panels }: Charted, { panel, points }: ChartSignal): number[] {
  return points.flatMap((index) => {
    const point = panels[panel]?.points[index];
    return point === undefined ? [] : Array.from({ length: point.to - point.from + 1 }, (_, nth) => point.from + nth);
  });
}
