/** Words over or under points of a plot: each at its point, or one for several where they would touch. */
import type { ChartFrame } from '../strip-chart/chart-frame.js';
import type { PlacedPoint } from './panel-place.js';

export interface PointGroup {
  readonly points: readonly PlacedPoint[];
  readonly text: string;
  readonly leftPt: number;
  readonly widthPt: number;
}

/** Room left and right of the words, within what a group takes. */
export const PAD_EM = 0.35;
const GAP_EM = 0.3;
const WIDEST_EM = 9;
/** Lines to points stand at least so far apart. */
const POLE_GAP_EM = 0.4;

/** What stands over some points: in full, and in short where that is too long. */
export type GroupWords = (points: readonly PlacedPoint[]) => readonly [full: string, short: string];

/** From left to right; none of them touches another or leaves the plot. */
export function groupsOf(points: readonly PlacedPoint[], words: GroupWords, frame: ChartFrame): PointGroup[] {
  const groups: PointGroup[] = [];
  for (const placed of points) {
    let group = groupOf([placed], words, frame);
    for (let before = groups.at(-1); before !== undefined && before.leftPt + before.widthPt + GAP_EM * frame.emPt > group.leftPt; before = groups.at(-1)) {
      groups.pop();
      group = groupOf([...before.points, ...group.points], words, frame);
    }
    groups.push(group);
  }
  return groups;
}

function groupOf(points: readonly PlacedPoint[], words: GroupWords, frame: ChartFrame): PointGroup {
  const { emPt, plot, plotRightPt } = frame;
  const [full, short] = words(points);
  const text = plateWidthPt(full, frame) <= WIDEST_EM * emPt ? full : short;
  const widthPt = plateWidthPt(text, frame);
  const middlePt = ((points[0]?.xPt ?? 0) + (points.at(-1)?.xPt ?? 0)) / 2;
  return { points, text, widthPt, leftPt: Math.max(plot.leftPt, Math.min(middlePt - widthPt / 2, plotRightPt - widthPt)) };
}

export const plateWidthPt = (text: string, { emPt, ruler }: ChartFrame): number => ruler(text, emPt, true) + 2 * PAD_EM * emPt;

/** From where to where a line has to reach that leads from the words to all points; null where the words stand right over one. */
export function armOf({ points, leftPt, widthPt }: PointGroup): readonly [fromPt: number, toPt: number] | null {
  const [firstPt, lastPt, middlePt] = [points[0]?.xPt ?? 0, points.at(-1)?.xPt ?? 0, leftPt + widthPt / 2];
  const [fromPt, toPt] = [Math.min(firstPt, middlePt), Math.max(lastPt, middlePt)];
  return toPt - fromPt > 0.01 ? [fromPt, toPt] : null;
}

/** The points that get a line to them: of several that stand close, the first. */
export function polesOf(points: readonly PlacedPoint[], emPt: number): PlacedPoint[] {
  let freeFromPt = -Infinity;
  return points.filter(({ xPt }) => {
    if (xPt < freeFromPt) return false;
    freeFromPt = xPt + POLE_GAP_EM * emPt;
    return true;
  });
}
