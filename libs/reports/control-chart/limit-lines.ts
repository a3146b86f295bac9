/** The lines that points are held against: control limits, the centre line, zones; and the specification, which looks like none of them. */
import type { Box, Point } from '../canvas.js';
import { type ChartFrame, xOf } from '../strip-chart/chart-frame.js';
import { hatched } from '../strip-chart/hatch.js';
import { type Pen, type Shape, stroke } from '../strip-chart/shapes.js';
import { valueY } from '../strip-chart/signal-plot.js';
import type { PicturePoint } from './control-chart-data.js';
import type { PanelPlace, PlacedPoint, PlacedSpecification } from './panel-place.js';
import { thinned } from './thinned.js';

export const LIMIT_PEN: Pen = { ink: 'black', widthPt: 1.3, dashPt: 5 };
export const CENTRE_PEN: Pen = { ink: 'black', widthPt: 0.6 };
export const ZONE_PEN: Pen = { ink: 'dark', widthPt: 0.5, dashPt: 1.5 };
export const WALL_PEN: Pen = { ink: 'black', widthPt: 2.6 };
const LEADER_PEN: Pen = { ink: 'dark', widthPt: 0.5, dashPt: 1.5 };
/** As short as the line of one point gets, to either side. */
const HALF_STEP_EM = 0.8;

/** What a line shows of a point; null where it has none. */
export type Level = (point: PicturePoint) => number | null;

export const LEVELS = {
  centre: ({ centre }: PicturePoint) => centre, upper: ({ upper }: PicturePoint) => upper, lower: ({ lower }: PicturePoint) => lower,
} as const satisfies Readonly<Record<string, Level>>;

/** Within its own control limit alone: a side on which nothing signals has no zones, and beyond a limit they would help nobody. */
const zoneOf = (side: 1 | -1, errors: number): Level => ({ centre, upper, lower, standardError }) => {
  const limit = side === 1 ? upper : lower;
  if (standardError === null || limit === null || Math.abs(limit - centre) <= errors * standardError) return null;
  return centre + side * errors * standardError;
};
const ZONES: readonly Level[] = [zoneOf(1, 1), zoneOf(1, 2), zoneOf(-1, 1), zoneOf(-1, 2)];

export function drawLimits(place: PanelPlace, hasZones: boolean, frame: ChartFrame): Shape[] {
  const lines = (level: Level, pen: Pen): Shape[] => stepsOf(place, level, frame).map((points) => ({ kind: 'line', points, pen }));
  return [
    ...(hasZones ? ZONES.flatMap((zone) => lines(zone, ZONE_PEN)) : []),
    ...lines(LEVELS.centre, CENTRE_PEN), ...lines(LEVELS.upper, LIMIT_PEN), ...lines(LEVELS.lower, LIMIT_PEN), ...leaders(place, frame),
  ];
}

/** One line for each row of points that have the level; it steps halfway between two points. */
export function stepsOf(place: PanelPlace, level: Level, frame: ChartFrame): Point[][] {
  const { points } = place;
  const lines: Point[][] = [];
  let line: Point[] = [];
  const end = (): void => {
    if (line.length > 0) lines.push(thinned(line, frame.emPt / 12));
    line = [];
  };
  points.forEach((placed, index) => {
    const value = level(placed.point);
    if (value === null) {
      end();
      return;
    }
    const yPt = valueY(place, value);
    const [fromPt, toPt] = reachOf(points, index, frame);
    if (line.length > 0 && line.at(-1)?.[1] === yPt) line[line.length - 1] = [toPt, yPt];
    else line.push([fromPt, yPt], [toPt, yPt]);
  });
  end();
  return lines;
}

/** From halfway to the point before to halfway to the next; the first and the last as far as their own pipe. */
function reachOf(points: readonly PlacedPoint[], index: number, frame: ChartFrame): [fromPt: number, toPt: number] {
  const { plot, plotRightPt, emPt } = frame;
  const [before, here, next] = [points[index - 1], points[index], points[index + 1]];
  const { xPt, point } = here as PlacedPoint;
  const fromPt = before === undefined ? Math.max(plot.leftPt, Math.min(xOf(frame, point.fromMm), xPt - HALF_STEP_EM * emPt)) : (before.xPt + xPt) / 2;
  const toPt = next === undefined ? Math.min(plotRightPt, Math.max(xOf(frame, point.toMm), xPt + HALF_STEP_EM * emPt)) : (next.xPt + xPt) / 2;
  return [fromPt, toPt];
}

/** The last of a level, and where its line ends; null where there is none. */
export function lastOf(place: PanelPlace, level: Level, frame: ChartFrame): { value: number; xPt: number } | null {
  const { points } = place;
  const index = points.findLastIndex(({ point }) => level(point) !== null);
  const value = index < 0 ? null : level((points[index] as PlacedPoint).point);
  return value === null ? null : { value, xPt: reachOf(points, index, frame)[1] };
}

/** From where a line ends to its words at the right. */
function leaders(place: PanelPlace, frame: ChartFrame): Shape[] {
  return Object.values(LEVELS).flatMap((level) => {
    const last = lastOf(place, level, frame);
    if (last === null || frame.plotRightPt - last.xPt < 0.5 * frame.emPt) return [];
    const yPt = valueY(place, last.value);
    return [stroke(last.xPt, yPt, frame.plotRightPt, yPt, LEADER_PEN)];
  });
}

/** What is outside the specification lies behind a wall: a heavy edge, and hatching beyond it. */
export const drawSpecification = (place: PanelPlace, frame: ChartFrame): Shape[] =>
  place.specification.filter(({ isOffScale }) => !isOffScale).flatMap((one) => wallIn(outsideOf(place, one), one.side, frame.emPt));

function outsideOf(place: PanelPlace, { side, value }: PlacedSpecification): Box {
  const { area } = place;
  const yPt = valueY(place, value);
  return side === 'upper' ? { ...area, heightPt: yPt - area.yPt } : { ...area, yPt, heightPt: area.yPt + area.heightPt - yPt };
}

export function wallIn(outside: Box, side: 'lower' | 'upper', emPt: number): Shape[] {
  const edgePt = side === 'upper' ? outside.yPt + outside.heightPt : outside.yPt;
  return [...hatched(outside, 'rising', emPt), stroke(outside.xPt, edgePt, outside.xPt + outside.widthPt, edgePt, WALL_PEN)];
}
