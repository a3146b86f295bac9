/** Under a plot the numbers of the reasons for which limits were taken without points, each with a line up to its point. */
import { type ChartFrame, textAt } from '../strip-chart/chart-frame.js';
import { type Block, type Pen, type Shape, stroke } from '../strip-chart/shapes.js';
import { armOf, groupsOf, type PointGroup, polesOf } from './point-groups.js';
import { LEFT_OUT_HALF_EM } from './panel-points.js';
import type { PanelPlace, PlacedPoint } from './panel-place.js';
import { numbersInWords } from './rule-letters.js';

const STRIP_EM = 1.6;
const FOOT_EM = 0.35;
const POLE_PEN: Pen = { ink: 'dark', widthPt: 0.5, dashPt: 1 };

const leftOutOf = ({ points }: PanelPlace): PlacedPoint[] => points.filter(({ point }) => point.leftOut !== null);

/**
 * Of no height where nothing was left out.
 * @param reasons in the order of their numbers, from 1
 */
export function leftOutStrip(place: PanelPlace, reasons: readonly string[], frame: ChartFrame): Block {
  const numberOf = new Map(reasons.map((reason, index) => [reason, index + 1]));
  const groups = groupsOf(leftOutOf(place), (points) => {
    const numbers = [...new Set(points.map(({ point }) => numberOf.get(point.leftOut ?? '') ?? 0))].sort((a, b) => a - b);
    return [`(${numbersInWords(numbers, () => '')})`, `(${numbers.length} reasons)`];
  }, frame);
  return { heightPt: groups.length === 0 ? 0 : STRIP_EM * frame.emPt, shapes: groups.flatMap((group) => drawGroup(group, frame)) };
}

function drawGroup(group: PointGroup, frame: ChartFrame): Shape[] {
  const footPt = FOOT_EM * frame.emPt;
  const arm = armOf(group);
  return [
    ...polesOf(group.points, frame.emPt).map(({ xPt }) => stroke(xPt, 0, xPt, footPt, POLE_PEN)),
    ...(arm === null ? [] : [stroke(arm[0], footPt, arm[1], footPt, { ink: 'dark', widthPt: 0.6 })]),
    textAt(frame, group.text, group.leftPt + group.widthPt / 2, footPt + frame.emPt, { hold: 'middle' }),
  ];
}

/** Lines from the points down to the foot of the plot. */
export function leftOutPoles(place: PanelPlace, { emPt }: ChartFrame): Shape[] {
  const footPt = place.area.yPt + place.area.heightPt;
  return polesOf(leftOutOf(place), emPt).map(({ xPt, yPt }) => stroke(xPt, Math.min(footPt, yPt + LEFT_OUT_HALF_EM * emPt), xPt, footPt, POLE_PEN));
}
