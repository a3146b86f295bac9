import type { Box, Point } from '../canvas.js';
import { formatMetres, formatMetresShort } from '../instants-and-lengths.js';
import { type ChartFrame, isOnAxis, stretchOf, textAt, xOf } from '../strip-chart/chart-frame.js';
import { hatched } from '../strip-chart/hatch.js';
import { type Block, box, type Pen, type Shape, stroke, type TextShape } from '../strip-chart/shapes.js';
import { plateIn } from '../strip-chart/signal-plot.js';
import { scaleOver, type ValueScale } from '../strip-chart/value-scale.js';
import type { RatingPanel, RatingStep } from './rating-chart-data.js';

export const RATING_PEN: Pen = { ink: 'black', widthPt: 1 };
export const ASSUMED_PEN: Pen = { ink: 'black', widthPt: 1, dashPt: 3 };
export const WEAKEST_PEN: Pen = { ink: 'black', widthPt: 3 };
const GRID_PEN: Pen = { ink: 'grey', widthPt: 0.4 };
const FRAME_PEN: Pen = { ink: 'black', widthPt: 0.8 };
const TICK_TEXT_EM = 0.85;
const WORD_ROW_EM = 1.28;
const FOOT_EM = 1.1;
const PARTS_MAX = 5;
/** Room for the words beside it. */
export const LEAST_PLOT_EM = 9.5;

interface Plot {
  readonly area: Box;
  readonly scale: ValueScale | null;
}

/** One rating of one wall: a line along the depth, hatched where it is not computable, its weakest marked. */
export function ratingPanelBlock(panel: RatingPanel, frame: ChartFrame, plotHeightPt: number): Block {
  const { emPt, plot: { leftPt, widthPt } } = frame;
  const values = panel.steps.flatMap(({ pressureMpa }) => pressureMpa ?? []);
  // From zero, so that heights can be compared by eye.
  const plot: Plot = { area: { xPt: leftPt, yPt: 0, widthPt, heightPt: plotHeightPt }, scale: values.length === 0 ? null : scaleOver([0, ...values], PARTS_MAX) };
  return {
    heightPt: plotHeightPt + FOOT_EM * emPt,
    shapes: [
      ...gridOf(plot, frame), ...notAsked(panel, plot, frame), ...notComputable(panel, plot, frame), ...lineOf(panel, plot, frame), ...weakestOf(panel, plot, frame),
      box(plot.area, null, FRAME_PEN), ...wordsOf(panel, frame), ...besideOf(panel, frame),
    ],
  };
}

function yOf({ area, scale }: Plot, value: number): number {
  if (scale === null) return area.yPt + area.heightPt;
  return area.yPt + area.heightPt * (1 - (value - scale.least) / (scale.greatest - scale.least));
}

function gridOf(plot: Plot, frame: ChartFrame): Shape[] {
  const { emPt, plotRightPt } = frame;
  return (plot.scale?.ticks ?? []).flatMap(({ value, text }) => {
    const yPt = yOf(plot, value);
    return [stroke(plot.area.xPt, yPt, plotRightPt, yPt, GRID_PEN), textAt(frame, text, plot.area.xPt - 0.4 * emPt, yPt + 0.3 * emPt, { hold: 'end', sizeEm: TICK_TEXT_EM })];
  });
}

/** Depths at which there is none of this wall, or none was asked about. */
function notAsked({ steps }: RatingPanel, { area }: Plot, frame: ChartFrame): Shape[] {
  const { rangeMm } = frame.plot;
  const ends = [...steps, { fromMm: rangeMm.toMm, toMm: rangeMm.toMm }];
  let reachedMm = rangeMm.fromMm;
  return ends.flatMap(({ fromMm, toMm }) => {
    const gap = { fromMm: reachedMm, toMm: fromMm };
    reachedMm = Math.max(reachedMm, toMm);
    if (gap.toMm <= gap.fromMm) return [];
    const [leftPt, rightPt] = [xOf(frame, gap.fromMm), xOf(frame, gap.toMm)];
    const over: Box = { ...area, xPt: leftPt, widthPt: rightPt - leftPt };
    return [...hatched(over, 'dots', frame.emPt), ...plateIn(over, 'none asked about', frame)];
  });
}

/** One box for neighbours with one reason; its number stands in it, or under it where there is room. */
function notComputable({ steps }: RatingPanel, { area }: Plot, frame: ChartFrame): Shape[] {
  const { emPt } = frame;
  let freeFromPt = -Infinity;
  return joined(steps.filter(({ reason }) => reason !== null)).flatMap((step) => {
    const stretch = stretchOf(frame, step);
    if (stretch === null) return [];
    const over: Box = { ...area, xPt: stretch.leftPt, widthPt: stretch.widthPt };
    const sign = reasonSign(step.reason);
    const plate = [`not computable ${sign}`, sign].map((text) => plateIn(over, text, frame)).find((one) => one.length > 0);
    const under = textAt(frame, sign, over.xPt + over.widthPt / 2, area.yPt + area.heightPt + 0.9 * emPt, { hold: 'middle', sizeEm: TICK_TEXT_EM });
    const isUnder = plate === undefined && under.xPt >= freeFromPt;
    if (isUnder) freeFromPt = under.xPt + under.widthPt + 0.3 * emPt;
    return [box(over, 'white', { ink: 'dark', widthPt: 0.4 }), ...hatched(over, 'falling', emPt), ...(plate ?? (isUnder ? [under] : []))];
  });
}

/** @example reasonSign(2) // '(2)' */
export const reasonSign = (reason: number | null): string => `(${reason ?? ''})`;

function joined(steps: readonly RatingStep[]): RatingStep[] {
  const all: RatingStep[] = [];
  for (const step of steps) {
    const before = all.at(-1);
    if (before?.toMm === step.fromMm && before.reason === step.reason) all[all.length - 1] = { ...before, toMm: step.toMm };
    else all.push(step);
  }
  return all;
}

/** A line of steps; broken where there is no rating, dashed where λ is assumed. */
function lineOf({ steps }: RatingPanel, plot: Plot, frame: ChartFrame): Shape[] {
  const lines: { readonly points: Point[]; readonly isAssumed: boolean }[] = [];
  let before: RatingStep | null = null;
  for (const step of steps.filter(({ pressureMpa }) => pressureMpa !== null)) {
    const yPt = yOf(plot, step.pressureMpa ?? 0);
    const points: Point[] = [[xOf(frame, step.fromMm), yPt], [xOf(frame, step.toMm), yPt]];
    const last = before?.toMm === step.fromMm ? lines.at(-1) : undefined;
    if (last?.isAssumed === step.isAssumed) last.points.push(...points);
    else lines.push({ points: [...(last?.points.slice(-1) ?? []), ...points], isAssumed: step.isAssumed });
    before = step;
  }
  return lines.map(({ points, isAssumed }) => ({ kind: 'line', points, pen: isAssumed ? ASSUMED_PEN : RATING_PEN }));
}

/** A thick line where it is weakest, and a triangle that points at it. */
function weakestOf({ weakest }: RatingPanel, plot: Plot, frame: ChartFrame): Shape[] {
  if (weakest === null) return [];
  const yPt = yOf(plot, weakest.pressureMpa);
  return weakest.places.filter((place) => isOnAxis(frame.plot.rangeMm, place)).flatMap((place) => {
    const stretch = stretchOf(frame, place);
    if (stretch === null) return [];
    const { leftPt, widthPt } = stretch;
    return [stroke(leftPt, yPt, leftPt + widthPt, yPt, WEAKEST_PEN), ...triangle(leftPt + widthPt / 2, yPt + 0.25 * frame.emPt, 0.45 * frame.emPt)];
  });
}

/** Its tip points up. */
export function triangle(xPt: number, tipPt: number, halfPt: number): Shape[] {
  return [{ kind: 'area', fill: 'black', pen: null, points: [[xPt, tipPt], [xPt + halfPt, tipPt + 1.6 * halfPt], [xPt - halfPt, tipPt + 1.6 * halfPt]] }];
}

function wordsOf({ wall, rating }: RatingPanel, frame: ChartFrame): TextShape[] {
  const { emPt, plot } = frame;
  const roomPt = plot.leftPt - 3.6 * emPt;
  return [`${wall} wall`, ...rating.split(/(?= \()/), 'MPa, advisory'].map((text) => text.trim()).map((text, row) =>
    textAt(frame, text, 0, (0.9 + row * WORD_ROW_EM) * emPt, { isBold: row === 0, sizeEm: row === 0 ? 1 : 0.95, roomPt }));
}

/** The weakest in figures, and how much is not rated. */
function besideOf({ weakest, steps }: RatingPanel, frame: ChartFrame): TextShape[] {
  const { emPt, plotRightPt, widthPt } = frame;
  const unratedMm = steps.filter(({ pressureMpa }) => pressureMpa === null).reduce((sum, { fromMm, toMm }) => sum + toMm - fromMm, 0);
  const rows = weakest === null ? ['nothing rated'] : ['weakest known', `${weakest.pressureMpa.toFixed(2)} MPa`, `(${weakest.tablePsi} psi)`, ...placeRows(weakest.places)];
  const rest = unratedMm === 0 ? [] : [`${formatMetresShort(unratedMm)} m not rated:`, 'may be weaker'];
  const xPt = plotRightPt + 0.9 * emPt;
  return [...rows, ...rest].map((text, row) => textAt(frame, text, xPt, (0.9 + row * 1.2) * emPt, { sizeEm: 0.92, isBold: row === 0, roomPt: widthPt - xPt }));
}

function placeRows(places: NonNullable<RatingPanel['weakest']>['places']): string[] {
  const [first, ...others] = places;
  if (first === undefined) return [];
  return [`at ${formatMetres(first.fromMm)}`, `to ${formatMetres(first.toMm)} m`, ...(others.length === 0 ? [] : [`and ${others.length} more`])];
}
