/** The plot of a channel: band, mean, gaps, threshold, saturation. Every column stands between its own two edges. */
import type { Column } from '#libs/signals';
import type { Box, Point } from '../canvas.js';
import type { ChartTrack } from './chart-data.js';
import { type ChartFrame, rowsBeside, textAt } from './chart-frame.js';
import { bandOf, type ColumnRun, gapOf, runsOf } from './column-runs.js';
import { hatched } from './hatch.js';
import { box, type Pen, type Shape, stroke } from './shapes.js';
import { scaleOver, type ValueScale } from './value-scale.js';

/** A band of equal extremes is drawn this thick, so that it can be seen. */
export const BAND_LEAST_PT = 0.8;
export const MEAN_PEN: Pen = { ink: 'black', widthPt: 0.9 };
export const THRESHOLD_PEN: Pen = { ink: 'black', widthPt: 1.1, dashPt: 4 };
const OUTLINE_PEN: Pen = { ink: 'dark', widthPt: 0.4 };
const GRID_PEN: Pen = { ink: 'pale', widthPt: 0.5 };
const PLATE_ROW_EM = 1.25;
export const TICK_TEXT_EM = 0.95;
const STRIP_EM = 0.95;
const NOTCH_EM = 0.55;
const TICK_EM = 1.6;

/** Where values are drawn. */
export interface ValuePlace {
  readonly area: Box;
  /** Null where there is no value. */
  readonly scale: ValueScale | null;
}

/** Where columns and values of a track are drawn; strips for the marks of saturation lie above and below the values. */
export interface PlotPlace extends ValuePlace {
  readonly frameBox: Box;
  readonly columns: readonly Column[];
}

/** A plot of a height, its top at `topPt`. */
export function plotPlace(track: ChartTrack, topPt: number, heightPt: number, frame: ChartFrame): PlotPlace {
  const { emPt, plot } = frame;
  const frameBox = { xPt: plot.leftPt, yPt: topPt, widthPt: plot.widthPt, heightPt };
  const [abovePt, belowPt] = (['saturatedHigh', 'saturatedLow'] as const).map((name) => (hasSaturated(track.columns, name) ? STRIP_EM * emPt : 0));
  const area = { ...frameBox, yPt: topPt + (abovePt ?? 0), heightPt: heightPt - (abovePt ?? 0) - (belowPt ?? 0) };
  const partsMax = Math.max(3, Math.floor(area.heightPt / (TICK_EM * emPt)));
  return { area, frameBox, columns: track.columns, scale: scaleOver(valuesOf(track), partsMax) };
}

const hasSaturated = (columns: readonly Column[], name: 'saturatedHigh' | 'saturatedLow'): boolean =>
  columns.some(({ summary }) => (summary?.counts[name] ?? 0) > 0);

function* valuesOf({ columns, threshold }: ChartTrack): Generator<number> {
  for (const { summary } of columns) {
    if (summary === null) continue;
    if (summary.least !== null) yield summary.least.value;
    if (summary.greatest !== null) yield summary.greatest.value;
  }
  if (threshold !== null) yield Number(threshold.level);
}

export const edgeX = ({ area, columns }: PlotPlace, edge: number): number => area.xPt + (area.widthPt * edge) / columns.length;

export function valueY({ area, scale }: ValuePlace, value: number): number {
  if (scale === null) return area.yPt + area.heightPt / 2;
  return area.yPt + area.heightPt * (1 - (value - scale.least) / (scale.greatest - scale.least));
}

/** Lines of the scale and their figures left of the plot. */
export function drawScale(place: ValuePlace, frame: ChartFrame): Shape[] {
  const { area } = place;
  return (place.scale?.ticks ?? []).flatMap(({ value, text }) => {
    const yPt = valueY(place, value);
    return [
      stroke(area.xPt, yPt, area.xPt + area.widthPt, yPt, GRID_PEN),
      stroke(area.xPt - 0.3 * frame.emPt, yPt, area.xPt, yPt, { ink: 'black', widthPt: 0.6 }),
      textAt(frame, text, area.xPt - 0.5 * frame.emPt, yPt + 0.34 * frame.emPt, { hold: 'end', sizeEm: TICK_TEXT_EM }),
    ];
  });
}

/** Gaps first, then bands, then the mean. */
export function drawColumnsOf(place: PlotPlace, frame: ChartFrame): Shape[] {
  const bands = runsOf(place.columns, bandOf);
  return [
    ...runsOf(place.columns, gapOf).flatMap((gap) => drawGap(place, gap, frame)),
    ...bands.flatMap((run) => drawBand(place, run, frame)),
    ...meanLines(place),
  ];
}

function runBox(place: PlotPlace, { from, to }: ColumnRun<unknown>): Box {
  const xPt = edgeX(place, from);
  return { ...place.frameBox, xPt, widthPt: edgeX(place, to) - xPt };
}

/** Hatched over the whole height; one too narrow to be seen has a notch at either end as well. */
function drawGap(place: PlotPlace, gap: ColumnRun<string>, frame: ChartFrame): Shape[] {
  const area = runBox(place, gap);
  const notches = area.widthPt < frame.emPt ? notchesAt(area, NOTCH_EM * frame.emPt) : [];
  return [box(area, 'white', { ink: 'dark', widthPt: 0.4 }), ...hatched(area, 'wide-falling', frame.emPt), ...notches, ...plateIn(area, gap.kind, frame)];
}

function notchesAt({ xPt, yPt, widthPt, heightPt }: Box, sidePt: number): Shape[] {
  const middle = xPt + widthPt / 2;
  const half = sidePt / 2;
  return [
    { kind: 'area', fill: 'black', pen: null, points: [[middle - half, yPt], [middle + half, yPt], [middle, yPt + sidePt]] },
    { kind: 'area', fill: 'black', pen: null, points: [[middle - half, yPt + heightPt], [middle + half, yPt + heightPt], [middle, yPt + heightPt - sidePt]] },
  ];
}

/** Words on white in the middle of a box, one under the other where they do not fit side by side; nothing where neither fits. */
export function plateIn({ xPt, yPt, widthPt, heightPt }: Box, words: string, frame: ChartFrame): Shape[] {
  const { emPt } = frame;
  for (const rows of [[words], words.split(' ')]) {
    const topPt = yPt + heightPt / 2 - rows.length * PLATE_ROW_EM * emPt / 2;
    const texts = rows.map((row, index) => textAt(frame, row, xPt + widthPt / 2, topPt + (index * PLATE_ROW_EM + 0.95) * emPt, { hold: 'middle' }));
    const widestPt = Math.max(...texts.map((text) => text.widthPt));
    if (widestPt + 0.6 * emPt > widthPt || rows.length * PLATE_ROW_EM * emPt > heightPt) continue;
    const plate = { xPt: xPt + (widthPt - widestPt) / 2 - 0.25 * emPt, yPt: topPt, widthPt: widestPt + 0.5 * emPt, heightPt: rows.length * PLATE_ROW_EM * emPt };
    return [box(plate, 'white'), ...texts];
  }
  return [];
}

/** One outline around all columns of a run: along their greatest values and back along their least. */
function drawBand(place: PlotPlace, { from, to, kind }: ColumnRun<'sharp' | 'coarse'>, frame: ChartFrame): Shape[] {
  const [tops, feet]: [Point[], Point[]] = [[], []];
  const stripes: Shape[] = [];
  for (let at = from; at < to; at += 1) {
    const [leftPt, rightPt] = [edgeX(place, at), edgeX(place, at + 1)];
    const [topPt, footPt] = bandEnds(place, place.columns[at]);
    tops.push([leftPt, topPt], [rightPt, topPt]);
    feet.push([leftPt, footPt], [rightPt, footPt]);
    if (kind === 'coarse') stripes.push(...hatched({ xPt: leftPt, yPt: topPt, widthPt: rightPt - leftPt, heightPt: footPt - topPt }, 'upright', frame.emPt));
  }
  const points = [...tops, ...feet.reverse()];
  if (kind === 'sharp') return [{ kind: 'area', fill: 'grey', pen: OUTLINE_PEN, points }];
  return [{ kind: 'area', fill: 'white', pen: { ...OUTLINE_PEN, widthPt: 0.6 }, points }, ...stripes];
}

function bandEnds(place: PlotPlace, column: Column | undefined): [topPt: number, footPt: number] {
  const [least, greatest] = [column?.summary?.least?.value ?? 0, column?.summary?.greatest?.value ?? 0];
  const [topPt, footPt] = [valueY(place, greatest), valueY(place, least)];
  const thin = Math.max(0, BAND_LEAST_PT - (footPt - topPt)) / 2;
  return [topPt - thin, footPt + thin];
}

/** From middle to middle of columns side by side that have a mean, and out to the edges of the first and the last. */
function meanLines(place: PlotPlace): Shape[] {
  return runsOf(place.columns, ({ summary }) => (summary !== null && summary.n > 0 && summary.least !== null ? 'mean' : null)).map(({ from, to }) => {
    const points: Point[] = [];
    for (let at = from; at < to; at += 1) {
      const yPt = valueY(place, place.columns[at]?.summary?.mean ?? 0);
      if (at === from) points.push([edgeX(place, from), yPt]);
      points.push([(edgeX(place, at) + edgeX(place, at + 1)) / 2, yPt]);
      if (at === to - 1) points.push([edgeX(place, to), yPt]);
    }
    return { kind: 'line', pen: MEAN_PEN, points };
  });
}

/** Arrowheads at the edge that was passed, one a run of columns, and beside each the sign that its extreme is a bound. */
export function drawSaturated(place: PlotPlace, frame: ChartFrame): Shape[] {
  return (['saturatedHigh', 'saturatedLow'] as const).flatMap((name) => {
    let freeFromPt = -Infinity;
    return runsOf(place.columns, ({ summary }) => ((summary?.counts[name] ?? 0) > 0 ? name : null)).flatMap((run) => {
      const area = runBox(place, run);
      const mark = saturatedMark(area, name, frame, freeFromPt);
      freeFromPt = Math.max(freeFromPt, ...mark.map((shape) => (shape.kind === 'text' ? shape.xPt + shape.widthPt + 1 : -Infinity)));
      return mark;
    });
  });
}

function saturatedMark(area: Box, name: 'saturatedHigh' | 'saturatedLow', frame: ChartFrame, freeFromPt: number): Shape[] {
  const { emPt, plotRightPt } = frame;
  const [middle, half, up] = [area.xPt + area.widthPt / 2, 0.32 * emPt, name === 'saturatedHigh'];
  const tipPt = up ? area.yPt + 0.1 * emPt : area.yPt + area.heightPt - 0.1 * emPt;
  const basePt = up ? tipPt + 0.6 * emPt : tipPt - 0.6 * emPt;
  const barPt = up ? basePt : basePt - 1.2;
  const shapes: Shape[] = [
    { kind: 'area', fill: 'black', pen: null, points: [[middle - half, basePt], [middle + half, basePt], [middle, tipPt]] },
    box({ xPt: area.xPt, yPt: barPt, widthPt: area.widthPt, heightPt: 1.2 }, 'black'),
  ];
  const baselinePt = up ? area.yPt + 0.8 * emPt : area.yPt + area.heightPt - 0.12 * emPt;
  const sign = textAt(frame, up ? '≥' : '≤', middle + 0.45 * emPt, baselinePt, { isBold: true });
  const fits = sign.xPt >= freeFromPt && sign.xPt + sign.widthPt <= plotRightPt;
  return fits ? [...shapes, sign] : shapes;
}

/** The level across the plot, and right of it what it is. */
export function drawThreshold({ threshold, unit }: ChartTrack, place: PlotPlace, frame: ChartFrame): Shape[] {
  if (threshold === null) return [];
  const { emPt, plotRightPt } = frame;
  const yPt = valueY(place, Number(threshold.level));
  const { yPt: topPt, heightPt } = place.frameBox;
  const firstPt = Math.max(topPt + 0.9 * emPt, Math.min(yPt + 0.35 * emPt, topPt + heightPt - 1.4 * emPt));
  return [
    stroke(place.area.xPt, yPt, plotRightPt, yPt, THRESHOLD_PEN),
    stroke(plotRightPt, yPt, plotRightPt + 0.5 * emPt, yPt, { ink: 'black', widthPt: 1.1 }),
    ...rowsBeside(frame, [`${threshold.level} ${unit}`.trim()], firstPt, true),
    ...rowsBeside(frame, [`threshold, or ${threshold.sense}`], firstPt + 1.2 * emPt),
  ];
}
