import type { Point } from '../canvas.js';
import { cautionBlock, stripChartCautions } from './chart-cautions.js';
import type { StripChart } from './chart-data.js';
import { BESIDE_PLOT_EM, type ChartFrame, frameOf } from './chart-frame.js';
import { chartInWords } from './chart-words.js';
import { checkStripChart } from './check-chart.js';
import { headBlock, titleBlock } from './head-block.js';
import { keyBlock } from './key-block.js';
import { oneLine, roomyRuler } from './ruler.js';
import { type Block, INK_COLOURS, type Pen, type Shape, stacked, type TextShape } from './shapes.js';
import { trackBlock } from './track-block.js';

export const EM_PX = 12;
const MARGIN_PX = 14;
const PLOT_HEIGHT_EM = 10;
const PLOT_LEAST_PX = 640;

/**
 * A strip chart as an SVG document of a fixed size: a pixel a column, or more for few columns. Black, white and greys, no script,
 * no link, no style sheet; the same chart gives the same bytes.
 * @throws ReportDataError for a chart that cannot be drawn truthfully.
 */
export function drawStripChartSvg(chart: StripChart): string {
  checkStripChart('chart', chart);
  const plotPx = plotWidthPx(Math.max(...chart.tracks.map(({ columns }) => columns.length)));
  const frame = frameOf(chart.axis, plotPx + BESIDE_PLOT_EM * EM_PX, EM_PX, roomyRuler);
  const whole = stacked([
    titleBlock(chart, frame), headBlock(chart, frame), ...tracksOf(chart, frame), keyBlock(chart, frame), cautionBlock(stripChartCautions(chart), frame),
  ]);
  return svgDocument(whole, frame, chart.titles[0] ?? '', chartInWords(chart));
}

/** Blocks as an SVG document, with its name and what it says in words for who cannot see it. */
export function svgDocument(whole: Block, frame: ChartFrame, title: string, words: string): string {
  const [width, height] = [Math.ceil(frame.widthPt + 2 * MARGIN_PX), Math.ceil(whole.heightPt + 2 * MARGIN_PX)];
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" role="img">`,
    `<title>${escaped(title)}</title>`,
    `<desc>${escaped(words)}</desc>`,
    `<rect width="${width}" height="${height}" fill="${INK_COLOURS.white}"/>`,
    `<g transform="translate(${MARGIN_PX} ${MARGIN_PX})" font-family="sans-serif" fill="none" xml:space="preserve">`,
    ...whole.shapes.map(elementOf),
    '</g>',
    '</svg>',
    '',
  ].join('\n');
}

const tracksOf = (chart: StripChart, frame: ChartFrame): Block[] => chart.tracks.map((track) => trackBlock(track, chart.marks, frame, PLOT_HEIGHT_EM * frame.emPt));

/** Whole pixels a column, so that no edge of a column is blurred. */
const plotWidthPx = (columns: number): number => columns * Math.ceil(PLOT_LEAST_PX / columns);

function elementOf(shape: Shape): string {
  switch (shape.kind) {
    case 'strokes':
      return `<path d="${shape.segments.map(([fromX, fromY, toX, toY]) => `M${n(fromX)} ${n(fromY)}L${n(toX)} ${n(toY)}`).join('')}"${penOf(shape.pen)}/>`;
    case 'line':
      return `<path d="${pathOf(shape.points)}"${penOf(shape.pen)} stroke-linejoin="round"/>`;
    case 'area':
      return `<path d="${pathOf(shape.points)}Z"${shape.fill === null ? '' : ` fill="${INK_COLOURS[shape.fill]}"`}${shape.pen === null ? '' : penOf(shape.pen)}/>`;
    case 'text':
      return textOf(shape);
  }
}

/** Upright and level lines in short, which most are. */
function pathOf(points: readonly Point[]): string {
  let [beforeX, beforeY] = ['', ''];
  return points.map(([xPt, yPt]) => {
    const [x, y] = [n(xPt), n(yPt)];
    const step = beforeX === '' ? `M${x} ${y}` : x === beforeX ? (y === beforeY ? '' : `V${y}`) : y === beforeY ? `H${x}` : `L${x} ${y}`;
    [beforeX, beforeY] = [x, y];
    return step;
  }).join('');
}

const penOf = ({ ink, widthPt, dashPt }: Pen): string =>
  ` stroke="${INK_COLOURS[ink]}" stroke-width="${n(widthPt)}"${dashPt === undefined ? '' : ` stroke-dasharray="${n(dashPt)}"`}`;

function textOf({ text, xPt, baselinePt, widthPt, sizePt, isBold, hold, ink = 'black' }: TextShape): string {
  const atPt = hold === 'start' ? xPt : hold === 'middle' ? xPt + widthPt / 2 : xPt + widthPt;
  const look = `${isBold ? ' font-weight="bold"' : ''}${hold === 'start' ? '' : ` text-anchor="${hold}"`} fill="${INK_COLOURS[ink]}"`;
  return `<text x="${n(atPt)}" y="${n(baselinePt)}" font-size="${n(sizePt)}"${look}>${escaped(text)}</text>`;
}

/** A hundredth of a pixel is finer than anyone sees. */
function n(value: number): string {
  const rounded = Math.round(value * 100) / 100;
  return String(Object.is(rounded, -0) ? 0 : rounded);
}

const escaped = (text: string): string =>
  oneLine(text).replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');
