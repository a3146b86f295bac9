import type { Point } from '../canvas.js';

/**
 * A line with no more of its points than a column of a width can show: of each column the first, the least, the greatest and the
 * last, in their order. What is drawn reaches as high and as low in every column as before. Points come by rising x.
 */
export function thinned(points: readonly Point[], columnPt: number): Point[] {
  const kept: Point[] = [];
  for (let from = 0; from < points.length;) {
    const column = columnOf(points[from], columnPt);
    let to = from + 1;
    while (to < points.length && columnOf(points[to], columnPt) === column) to += 1;
    kept.push(...extremesOf(points.slice(from, to)));
    from = to;
  }
  return kept;
}

const columnOf = (point: Point | undefined, columnPt: number): number => Math.floor((point?.[0] ?? 0) / columnPt);

function extremesOf(points: readonly Point[]): readonly Point[] {
  if (points.length <= 4) return points;
  const yOf = (index: number): number => points[index]?.[1] ?? 0;
  let [least, greatest] = [0, 0];
  for (let index = 1; index < points.length; index += 1) {
    if (yOf(index) < yOf(least)) least = index;
    if (yOf(index) > yOf(greatest)) greatest = index;
  }
  return [...new Set([0, least, greatest, points.length - 1])].sort((a, b) => a - b).flatMap((index) => points.slice(index, index + 1));
}
