import type { Box } from '../canvas.js';
import { type ChartFrame, isOnAxis, textAt, xOf } from '../strip-chart/chart-frame.js';
import { isSymbol } from '../strip-chart/head-block.js';
import { type Block, box, type Pen, type Shape, stacked, stroke, type TextShape } from '../strip-chart/shapes.js';
import { drawScale, plateIn } from '../strip-chart/signal-plot.js';
import { pipeLines } from '../strip-chart/track-block.js';
import type { ControlChartPicture, PicturePanel } from './control-chart-data.js';
import { counted } from './counted.js';
import { leftOutReasons } from './left-out-reasons.js';
import { leftOutPoles, leftOutStrip } from './left-out-strip.js';
import { drawLimitLabels } from './limit-labels.js';
import { drawLimits, drawSpecification } from './limit-lines.js';
import { drawPoints } from './panel-points.js';
import { type PanelPlace, panelPlace } from './panel-place.js';
import { signalPoles, signalStrip } from './signal-strip.js';

/** Room for the words beside it and for all limits. */
export const LEAST_PLOT_EM = 9;
const FOOT_EM = 1;
const WORD_ROW_EM = 1.28;
/** Room for the figures of the scale. */
const TICKS_EM = 4.6;
const EVENT_PEN: Pen = { ink: 'grey', widthPt: 0.6, dashPt: 2 };

/** The points of one panel with all that they are held against, signals by name over them, reasons for what was left out by number under them. */
export function controlPanelBlock(picture: ControlChartPicture, panel: PicturePanel, frame: ChartFrame, plotHeightPt: number): Block {
  const { plot: { leftPt, widthPt } } = frame;
  const area: Box = { xPt: leftPt, yPt: 0, widthPt, heightPt: plotHeightPt };
  const place = panelPlace(panel, area, frame);
  const plot: Block = {
    heightPt: plotHeightPt,
    shapes: [
      ...coilBands(picture, area, frame), ...drawScale(place, frame), ...drawSpecification(place, frame), ...eventLines(picture, area, frame), ...pipeLines(picture.marks, { frameBox: area }, frame),
      ...drawLimits(place, panel.hasZones, frame), ...signalPoles(place, frame), ...leftOutPoles(place, frame), ...drawPoints(place, frame), ...(place.points.length === 0 ? plateIn(area, 'no points', frame) : []),
      box(area, null, { ink: 'black', widthPt: 0.8 }), ...panelWords(panel, place, frame), ...drawLimitLabels(panel, place, frame),
    ],
  };
  const reasons = leftOutReasons(picture).map(({ reason }) => reason);
  return stacked([signalStrip(place, picture.signals, frame), plot, leftOutStrip(place, reasons, frame), { heightPt: FOOT_EM * frame.emPt, shapes: [] }]);
}

/** Every other coil. */
function coilBands({ coils }: ControlChartPicture, area: Box, frame: ChartFrame): Shape[] {
  return coils.flatMap((coil, index) => {
    if (index % 2 === 0 || !isOnAxis(frame.plot.rangeMm, coil)) return [];
    const [fromPt, toPt] = [xOf(frame, coil.fromMm), xOf(frame, coil.toMm)];
    return [box({ ...area, xPt: fromPt, widthPt: toPt - fromPt }, 'faint')];
  });
}

/** Where something else began, so that it is seen why no line goes on; one for several at one place. */
function eventLines({ marks }: ControlChartPicture, { yPt, heightPt }: Box, frame: ChartFrame): Shape[] {
  const events = marks.filter((mark) => isSymbol(mark.kind) && isOnAxis(frame.plot.rangeMm, mark));
  const places = new Set(events.map(({ fromMm }) => Math.round(2 * xOf(frame, fromMm)) / 2));
  return [...places].map((xPt) => stroke(xPt, yPt, xPt, yPt + heightPt, EVENT_PEN));
}

/** What it shows, and how much of it. */
function panelWords({ shows, unit }: PicturePanel, { points }: PanelPlace, frame: ChartFrame): TextShape[] {
  const { emPt, plot } = frame;
  const signals = new Set(points.flatMap(({ point }) => point.signals)).size;
  const leftOut = points.filter(({ point }) => point.leftOut !== null).length;
  const name = `${shows.charAt(0).toUpperCase()}${shows.slice(1)}`;
  const rows: readonly (readonly [text: string, isBold: boolean])[] = [
    [name, true], ...(unit === '' ? [] : [[unit, false] as const]), [counted(points.length, 'point'), false],
    ...(leftOut > 0 ? [[`${leftOut} left out`, false] as const] : []), [signals === 0 ? 'no signal' : counted(signals, 'signal'), signals > 0],
  ];
  return rows.map(([text, isBold], row) => textAt(frame, text, 0, (0.9 + row * WORD_ROW_EM) * emPt, { isBold, sizeEm: row === 0 ? 1.1 : 0.95, roomPt: plot.leftPt - TICKS_EM * emPt }));
}
