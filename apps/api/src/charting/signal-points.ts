import type { Charted, ChartSignal } from '#libs/charting';

/** Which point of the row a signal is at: the last of those that its point of the panel is made of. */
export function signallingPoint({ panels }: Charted, { panel, point }: ChartSignal): number {
  const found = panels[panel]?.points[point];
  if (found === undefined) throw new Error(`a signal without its point: ${panel}, ${point}`);
  return found.to;
}

/** Visits the points of the row that make the pattern of a signal, in order. Charts have thousands of signals: no list is made of them. */
export function eachOfPattern({ panels }: Charted, { panel, points }: ChartSignal, visit: (index: number) => void): void {
  const made = panels[panel]?.points ?? [];
  for (const nth of points) {
    const point = made[nth];
    if (point === undefined) continue;
    for (let index = point.from; index <= point.to; index += 1) visit(index);
  }
}
