/** Numbers of signals over a plot, each with a line down to its point; where there is no room for each, several share one. */
import { type ChartFrame, textAt } from '../strip-chart/chart-frame.js';
import { type Block, box, type Pen, type Shape, stroke } from '../strip-chart/shapes.js';
import { SIGNAL_SIDE_EM } from './panel-points.js';
import type { PanelPlace, PlacedPoint } from './panel-place.js';

const STRIP_EM = 1.7;
const PLATE_EM = 1.35;
const PAD_EM = 0.35;
const GAP_EM = 0.3;
const WIDEST_EM = 9;
const POLE_PEN: Pen = { ink: 'black', widthPt: 0.6, dashPt: 1.5 };
const ARM_PEN: Pen = { ink: 'black', widthPt: 0.8 };
/** Lines down stand at least so far apart. */
const POLE_GAP_EM = 0.4;

interface SignalGroup {
  readonly points: readonly PlacedPoint[];
  readonly text: string;
  readonly leftPt: number;
  readonly widthPt: number;
}

/** The numbers; of no height where nothing signals. */
export function signalStrip({ points }: PanelPlace, frame: ChartFrame): Block {
  const groups = groupsOf(points, frame);
  return { heightPt: groups.length === 0 ? 0 : STRIP_EM * frame.emPt, shapes: groups.flatMap((group) => drawGroup(group, frame)) };
}

function groupsOf(points: readonly PlacedPoint[], frame: ChartFrame): SignalGroup[] {
  const groups: SignalGroup[] = [];
  for (const placed of points.filter(({ point }) => point.signals.length > 0)) {
    let group = groupOf([placed], frame);
    for (let before = groups.at(-1); before !== undefined && before.leftPt + before.widthPt + GAP_EM * frame.emPt > group.leftPt; before = groups.at(-1)) {
      groups.pop();
      group = groupOf([...before.points, ...group.points], frame);
    }
    groups.push(group);
  }
  return groups;
}

function groupOf(points: readonly PlacedPoint[], frame: ChartFrame): SignalGroup {
  const { emPt, plot, plotRightPt, ruler } = frame;
  const numbers = [...new Set(points.flatMap(({ point }) => point.signals))].sort((a, b) => a - b);
  const widthOf = (words: string): number => ruler(words, emPt, true) + 2 * PAD_EM * emPt;
  const listed = numberRanges(numbers);
  const text = widthOf(listed) <= WIDEST_EM * emPt ? listed : `${numbers.length} signals`;
  const widthPt = widthOf(text);
  const middlePt = ((points[0]?.xPt ?? 0) + (points.at(-1)?.xPt ?? 0)) / 2;
  return { points, text, widthPt, leftPt: Math.max(plot.leftPt, Math.min(middlePt - widthPt / 2, plotRightPt - widthPt)) };
}

/** @example numberRanges([1, 2, 3, 7]) // '1–3, 7' */
export function numberRanges(numbers: readonly number[]): string {
  const ranges: [from: number, to: number][] = [];
  for (const number of numbers) {
    const last = ranges.at(-1);
    if (last?.[1] === number - 1) last[1] = number;
    else ranges.push([number, number]);
  }
  return ranges.map(([from, to]) => (from === to ? String(from) : to === from + 1 ? `${from}, ${to}` : `${from}–${to}`)).join(', ');
}

/** White on black, with an arm over all of its points. */
function drawGroup({ points, text, leftPt, widthPt }: SignalGroup, frame: ChartFrame): Shape[] {
  const { emPt } = frame;
  const [fromPt, toPt] = [points[0]?.xPt ?? 0, points.at(-1)?.xPt ?? 0];
  const arm = stroke(Math.min(fromPt, leftPt + widthPt / 2), PLATE_EM * emPt, Math.max(toPt, leftPt + widthPt / 2), PLATE_EM * emPt, ARM_PEN);
  const feet = polesOf(points, emPt).map(({ xPt }) => stroke(xPt, PLATE_EM * emPt, xPt, STRIP_EM * emPt, POLE_PEN));
  return [
    ...(toPt - fromPt > 0 ? [arm] : []), ...feet, box({ xPt: leftPt, yPt: 0, widthPt, heightPt: PLATE_EM * emPt }, 'black'),
    textAt(frame, text, leftPt + widthPt / 2, 1.02 * emPt, { isBold: true, hold: 'middle', ink: 'white' }),
  ];
}

function polesOf(points: readonly PlacedPoint[], emPt: number): PlacedPoint[] {
  let freeFromPt = -Infinity;
  return points.filter(({ xPt }) => {
    if (xPt < freeFromPt) return false;
    freeFromPt = xPt + POLE_GAP_EM * emPt;
    return true;
  });
}

/** Lines from the top of the plot down to the points. */
export function signalPoles({ points, area }: PanelPlace, { emPt }: ChartFrame): Shape[] {
  return polesOf(points.filter(({ point }) => point.signals.length > 0), emPt).map(({ xPt, yPt }) =>
    stroke(xPt, area.yPt, xPt, Math.max(area.yPt, yPt - SIGNAL_SIDE_EM * emPt / 2), POLE_PEN));
}

/** A number as it stands over a plot, for a list; `xPt` is its left end. */
export function numberPlate(text: string, xPt: number, topPt: number, frame: ChartFrame): { widthPt: number; shapes: Shape[] } {
  const { emPt, ruler } = frame;
  const widthPt = ruler(text, emPt, true) + 2 * PAD_EM * emPt;
  return {
    widthPt,
    shapes: [box({ xPt, yPt: topPt, widthPt, heightPt: PLATE_EM * emPt }, 'black'), textAt(frame, text, xPt + widthPt / 2, topPt + 1.02 * emPt, { isBold: true, hold: 'middle', ink: 'white' })],
  };
}
