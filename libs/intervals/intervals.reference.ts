import type { Interval } from './interval.js';

/*
 * The interval algebra as directly as it can be said: a set of cells, where cell k is the millimetre [k, k + 1).
 * Its cost grows with the length covered; it exists to check IntervalSet, and shares no algorithm with it.
 */

/** The cells of a set of positions. */
export type Cells = ReadonlySet<number>;

/** Every cell that lies in at least one of the intervals. */
export function cellsOf(intervals: Iterable<Interval>): Cells {
  const cells = new Set<number>();
  for (const { fromMm, toMm } of intervals) {
    for (let cell = fromMm; cell < toMm; cell += 1) cells.add(cell);
  }
  return cells;
}

/** The maximal runs of consecutive cells, in order. */
export function runsOf(cells: Cells): Interval[] {
  const starts = [...cells].filter((cell) => !cells.has(cell - 1)).sort((a, b) => a - b);
  return starts.map((fromMm) => {
    let toMm = fromMm;
    while (cells.has(toMm)) toMm += 1;
    return { fromMm, toMm };
  });
}

export function unionCells(a: Cells, b: Cells): Cells {
  return new Set([...a, ...b]);
}

export function intersectCells(a: Cells, b: Cells): Cells {
  return new Set([...a].filter((cell) => b.has(cell)));
}

export function subtractCells(a: Cells, b: Cells): Cells {
  return new Set([...a].filter((cell) => !b.has(cell)));
}

export function coversCells(outer: Cells, inner: Cells): boolean {
  return [...inner].every((cell) => outer.has(cell));
}

export function overlapCells(a: Cells, b: Cells): boolean {
  return [...a].some((cell) => b.has(cell));
}

/** Cells within `byMm` of a cell of the set; for a negative `byMm`, cells whose whole neighbourhood is in the set. */
export function growCells(cells: Cells, byMm: number): Cells {
  const reach = Math.abs(byMm);
  const neighbours = (cell: number) => Array.from({ length: 2 * reach + 1 }, (_, index) => cell - reach + index);
  if (byMm >= 0) return new Set([...cells].flatMap(neighbours));
  return new Set([...cells].filter((cell) => neighbours(cell).every((neighbour) => cells.has(neighbour))));
}

export function shiftCells(cells: Cells, byMm: number): Cells {
  return new Set([...cells].map((cell) => cell + byMm));
}
