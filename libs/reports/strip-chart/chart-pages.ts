import type { Canvas, Rule } from '../canvas.js';
import type { PageFrame } from '../page-frame.js';
import type { StripChart } from './chart-data.js';
import { type ChartFrame, frameOf } from './chart-frame.js';
import { headBlock } from './head-block.js';
import { keyBlock } from './key-block.js';
import type { Ruler } from './ruler.js';
import { type Block, INK_COLOURS, type Pen, PEN_EM_PT, type Shape } from './shapes.js';
import { leastPlotPt, trackBlock } from './track-block.js';

/** As small as the small print of other papers, so that three or four channels stand on a page. */
export const EM_PT = 7;
const PLOT_MOST_EM = 20;

/** The chart from the cursor of a frame on, over as many pages as its tracks take; the pipe and the key stand on each. */
export function drawChartPages(chart: StripChart, page: PageFrame): void {
  const frame = frameOf(chart.axis, page.widthPt, EM_PT, rulerOf(page.canvas));
  const head = headBlock(chart, frame);
  const groups = groupsOf(chart, head, frame, page);
  groups.forEach((tracks, index) => {
    if (index > 0) page.newPage();
    const key = keyBlock({ ...chart, tracks }, frame);
    const morePt = sparePt(chart, tracks, page.roomPt - head.heightPt - key.heightPt, frame);
    const plots = tracks.map((track) => trackBlock(track, chart.marks, frame, Math.min(PLOT_MOST_EM * EM_PT, leastPlotPt(track, frame) + morePt)));
    for (const block of [head, ...plots, key]) drawBlock(block, page);
  });
}

type Tracks = StripChart['tracks'];

/** As few pages as there can be in the given order, and as evenly filled as fits. */
function groupsOf(chart: StripChart, head: Block, frame: ChartFrame, page: PageFrame): Tracks[] {
  const fits = (tracks: Tracks, roomPt: number): boolean =>
    head.heightPt + keyBlock({ ...chart, tracks }, frame).heightPt + leastHeightPt(chart, tracks, frame) <= roomPt;
  const greedy = filled(chart.tracks, chart.tracks.length, (tracks, index) => fits(tracks, index === 0 ? page.roomPt : page.fullRoomPt));
  const even = filled(chart.tracks, Math.ceil(chart.tracks.length / greedy.length), (tracks, index) => fits(tracks, index === 0 ? page.roomPt : page.fullRoomPt));
  return even.length === greedy.length ? even : greedy;
}

/** At least one on each page. */
function filled(tracks: Tracks, most: number, fits: (tracks: Tracks, index: number) => boolean): Tracks[] {
  const groups: Tracks[] = [];
  for (let from = 0; from < tracks.length;) {
    let to = from + 1;
    while (to < tracks.length && to - from < most && fits(tracks.slice(from, to + 1), groups.length)) to += 1;
    groups.push(tracks.slice(from, to));
    from = to;
  }
  return groups;
}

const leastHeightPt = (chart: StripChart, tracks: Tracks, frame: ChartFrame): number =>
  tracks.reduce((sum, track) => sum + trackBlock(track, chart.marks, frame, leastPlotPt(track, frame)).heightPt, 0);

/** How much higher than need be each plot can be, so that no room is left. */
const sparePt = (chart: StripChart, tracks: Tracks, roomPt: number, frame: ChartFrame): number =>
  Math.max(0, roomPt - leastHeightPt(chart, tracks, frame)) / tracks.length;

/** Widths as the fonts of a paper have them. */
export function rulerOf(canvas: Canvas): Ruler {
  const known = new Map<string, number>();
  return (text, sizePt, isBold) => {
    const key = `${isBold ? 'b' : 'r'}${sizePt} ${text}`;
    const widthPt = known.get(key) ?? canvas.layout(text, Infinity, { sizePt, isBold })[0]?.widthPt ?? 0;
    known.set(key, widthPt);
    return widthPt;
  };
}

/** At the cursor of the page, which it moves down. */
export function drawBlock({ heightPt, shapes }: Block, page: PageFrame): void {
  for (const shape of shapes) drawShape(shape, page);
  page.yPt += heightPt;
}

const PEN_SHARE = EM_PT / PEN_EM_PT;
const ruleOf = ({ ink, widthPt, dashPt }: Pen): Rule =>
  ({ widthPt: widthPt * PEN_SHARE, grey: INK_COLOURS[ink], dashPt: dashPt === undefined ? undefined : dashPt * PEN_SHARE });

function drawShape(shape: Shape, { canvas, leftPt, yPt: topPt }: PageFrame): void {
  switch (shape.kind) {
    case 'strokes':
      canvas.drawStrokes(shape.segments.map(([fromX, fromY, toX, toY]) => [[leftPt + fromX, topPt + fromY], [leftPt + toX, topPt + toY]] as const), ruleOf(shape.pen));
      return;
    case 'line':
      canvas.drawCurve(shape.points.map(([xPt, yPt]) => [leftPt + xPt, topPt + yPt] as const), ruleOf(shape.pen));
      return;
    case 'area':
      canvas.drawOutline(
        shape.points.map(([xPt, yPt]) => [leftPt + xPt, topPt + yPt] as const), shape.fill === null ? null : INK_COLOURS[shape.fill], shape.pen === null ? null : ruleOf(shape.pen),
      );
      return;
    case 'text': {
      const style = { sizePt: shape.sizePt, isBold: shape.isBold, leading: 1.2 };
      const [line] = canvas.layout(shape.text, Infinity, style);
      if (line !== undefined) canvas.drawLine(line, leftPt + shape.xPt, topPt + shape.baselinePt - shape.sizePt, style, shape.ink);
    }
  }
}
