/** The points of a panel: a line through them, and a shape for each kind. */
import type { Point } from '../canvas.js';
import { type ChartFrame, xOf } from '../strip-chart/chart-frame.js';
import { box, type Pen, type Shape, stroke } from '../strip-chart/shapes.js';
import { octagon } from '../strip-chart/symbols.js';
import type { PanelPlace, PlacedPoint } from './panel-place.js';
import { thinned } from './thinned.js';

export const POINT_LINE_PEN: Pen = { ink: 'black', widthPt: 0.8 };
export const SPAN_PEN: Pen = { ink: 'dark', widthPt: 0.8 };
export const SIGNAL_SIDE_EM = 0.82;
export const LEFT_OUT_HALF_EM = 0.42;

/** The graver lies over the other. */
export function drawPoints(place: PanelPlace, frame: ChartFrame): Shape[] {
  const { points } = place;
  const leftOut = points.filter(({ point }) => point.leftOut !== null && point.signals.length === 0);
  const signals = points.filter(({ point }) => point.signals.length > 0);
  return [
    ...spansOf(place, frame), ...linesOf(place, frame), ...dotsOf(place, frame.emPt),
    ...apart(leftOut).flatMap(({ xPt, yPt }) => leftOutAt(xPt, yPt, frame.emPt)),
    ...apart(signals).flatMap(({ point, xPt, yPt }) => signalAt(xPt, yPt, frame.emPt, point.leftOut !== null)),
  ];
}

/** Pipe that a point speaks for, where it can be seen beside the dot. */
function spansOf({ points, dotPt, isDense }: PanelPlace, frame: ChartFrame): Shape[] {
  if (isDense) return [];
  return points.flatMap(({ point, yPt }) => {
    const [fromPt, toPt] = [xOf(frame, point.fromMm), xOf(frame, point.toMm)];
    return isSpan(toPt - fromPt, dotPt) ? [stroke(fromPt, yPt, toPt, yPt, SPAN_PEN), ...[fromPt, toPt].map((xPt) => stroke(xPt, yPt - 1.6, xPt, yPt + 1.6, SPAN_PEN))] : [];
  });
}

export const isSpan = (widthPt: number, dotPt: number): boolean => widthPt > 2 * dotPt + 4;

/** Rows of points between which the line is not broken. */
export function rowsOf(points: readonly PlacedPoint[]): PlacedPoint[][] {
  const rows: PlacedPoint[][] = [];
  for (const placed of points) {
    const row = placed.point.beginsAnew ? undefined : rows.at(-1);
    if (row === undefined) rows.push([placed]);
    else row.push(placed);
  }
  return rows;
}

function linesOf({ points }: PanelPlace, frame: ChartFrame): Shape[] {
  return rowsOf(points).filter((row) => row.length > 1).map((row) => ({
    kind: 'line', pen: POINT_LINE_PEN, points: thinned(row.map(({ xPt, yPt }): Point => [xPt, yPt]), frame.emPt / 12),
  }));
}

/** Every point that is no other shape; where they stand too close, those alone that no line goes through. */
function dotsOf({ points, isDense, dotPt }: PanelPlace, emPt: number): Shape[] {
  const plain = isDense ? rowsOf(points).filter((row) => row.length === 1).flat() : points;
  return plain.filter(({ point }) => point.signals.length === 0 && point.leftOut === null).map(({ xPt, yPt }) => dotAt(xPt, yPt, isDense ? 0.1 * emPt : dotPt));
}

export const dotAt = (xPt: number, yPt: number, halfPt: number): Shape => ({ kind: 'area', fill: 'black', pen: null, points: octagon(xPt, yPt, halfPt) });

/** A black square; crossed out in white where the limits were taken without it. */
export function signalAt(xPt: number, yPt: number, emPt: number, isLeftOut = false): Shape[] {
  const sidePt = SIGNAL_SIDE_EM * emPt;
  const square = box({ xPt: xPt - sidePt / 2, yPt: yPt - sidePt / 2, widthPt: sidePt, heightPt: sidePt }, 'black', { ink: 'white', widthPt: 0.8 });
  return isLeftOut ? [square, cross(xPt, yPt, 0.3 * sidePt, { ink: 'white', widthPt: 1.2 })] : [square];
}

/** Open, with a cross. */
export function leftOutAt(xPt: number, yPt: number, emPt: number): Shape[] {
  const halfPt = LEFT_OUT_HALF_EM * emPt;
  return [{ kind: 'area', fill: 'white', pen: { ink: 'black', widthPt: 0.9 }, points: octagon(xPt, yPt, halfPt) }, cross(xPt, yPt, 0.62 * halfPt, { ink: 'black', widthPt: 0.9 })];
}

const cross = (xPt: number, yPt: number, halfPt: number, pen: Pen): Shape => ({
  kind: 'strokes', pen, segments: [[xPt - halfPt, yPt - halfPt, xPt + halfPt, yPt + halfPt], [xPt - halfPt, yPt + halfPt, xPt + halfPt, yPt - halfPt]],
});

/** Without those that would be drawn exactly over another of them. */
function apart(points: readonly PlacedPoint[]): PlacedPoint[] {
  const byPlace = new Map(points.map((placed) => [[placed.xPt, placed.yPt].map((pt) => Math.round(2 * pt)).join(), placed]));
  return [...byPlace.values()];
}
