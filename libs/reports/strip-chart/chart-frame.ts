import { type BarScale, drawnStretch, toPt } from '../bar-scale.js';
import type { IntervalMm } from '../instants-and-lengths.js';
import { cutToFit, oneLine, type Ruler } from './ruler.js';
import type { TextShape } from './shapes.js';

/** Words at the left, the plot between, words at the right; everything grows with the type size. */
export interface ChartFrame {
  readonly widthPt: number;
  readonly emPt: number;
  readonly ruler: Ruler;
  readonly plot: BarScale;
  readonly plotRightPt: number;
}

const LEFT_EM = 15.5;
const RIGHT_EM = 12;
/** Widths left of and right of the plot together, in multiples of the type size. */
export const BESIDE_PLOT_EM = LEFT_EM + RIGHT_EM;
/** Distance between the baselines of two lines of text. */
export const ROW_EM = 1.35;

/** @param besideEm room left of and right of the plot together */
export function frameOf(rangeMm: IntervalMm, widthPt: number, emPt: number, ruler: Ruler, besideEm = BESIDE_PLOT_EM): ChartFrame {
  const plot = { rangeMm, leftPt: LEFT_EM * emPt, widthPt: widthPt - besideEm * emPt };
  return { widthPt, emPt, ruler, plot, plotRightPt: plot.leftPt + plot.widthPt };
}

/** Where a position is drawn; one off the axis at the nearer end. */
export function xOf({ plot }: ChartFrame, atMm: number): number {
  return toPt(plot, Math.max(plot.rangeMm.fromMm, Math.min(atMm, plot.rangeMm.toMm)));
}

/** The drawn part of an interval: wide enough to be seen, however short. Null when it lies off the axis. */
export function stretchOf({ plot }: ChartFrame, interval: IntervalMm): { leftPt: number; widthPt: number } | null {
  if (!isOnAxis(plot.rangeMm, interval)) return null;
  const fromMm = Math.max(interval.fromMm, plot.rangeMm.fromMm);
  return drawnStretch(plot, { fromMm, toMm: Math.max(fromMm, Math.min(interval.toMm, plot.rangeMm.toMm)) });
}

/** Whether some of an interval, or a point, is on the axis; a point may lie at its very end. */
export function isOnAxis(rangeMm: IntervalMm, { fromMm, toMm }: IntervalMm): boolean {
  if (fromMm === toMm) return fromMm >= rangeMm.fromMm && fromMm <= rangeMm.toMm;
  return fromMm < rangeMm.toMm && toMm > rangeMm.fromMm;
}

export interface TextOptions {
  readonly isBold?: boolean;
  readonly sizeEm?: number;
  readonly hold?: TextShape['hold'];
  /** What does not fit is cut. */
  readonly roomPt?: number;
  /** Black when left out. */
  readonly ink?: TextShape['ink'];
}

/** Text held at `atPt`: there it starts, has its middle, or ends. */
export function textAt(frame: ChartFrame, text: string, atPt: number, baselinePt: number, options: TextOptions = {}): TextShape {
  const { isBold = false, sizeEm = 1, hold = 'start', roomPt = Infinity, ink } = options;
  const sizePt = sizeEm * frame.emPt;
  const shown = cutToFit(oneLine(text), roomPt, sizePt, isBold, frame.ruler);
  const widthPt = frame.ruler(shown, sizePt, isBold);
  const xPt = atPt - (hold === 'start' ? 0 : hold === 'middle' ? widthPt / 2 : widthPt);
  return { kind: 'text', text: shown, xPt, baselinePt, widthPt, sizePt, isBold, hold, ...(ink === undefined ? {} : { ink }) };
}

const BESIDE_GAP_EM = 0.9;
const BESIDE_ROW_EM = 1.2;

/** Words right of the plot, as many in a row as fit, the first row on a baseline. */
export function rowsBeside(frame: ChartFrame, words: readonly string[], baselinePt: number, isBold = false): TextShape[] {
  const { emPt, plotRightPt, widthPt, ruler } = frame;
  const xPt = plotRightPt + BESIDE_GAP_EM * emPt;
  const roomPt = widthPt - xPt;
  const rows: string[] = [];
  for (const word of words) {
    const joined = rows.length === 0 ? word : `${rows.at(-1) ?? ''}, ${word}`;
    if (rows.length > 0 && ruler(joined, 0.95 * emPt, isBold) <= roomPt) rows[rows.length - 1] = joined;
    else rows.push(word);
  }
  return rows.map((row, index) => textAt(frame, row, xPt, baselinePt + index * BESIDE_ROW_EM * emPt, { sizeEm: 0.95, isBold, roomPt }));
}
