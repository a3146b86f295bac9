/** Sets text as large as its box allows, for what must be read from afar. */
import { type Box, type Canvas, lineHeightPt } from './canvas.js';
import { cutText } from './cut-text.js';
import type { TextLine, TextStyle } from './line-layout.js';

export interface FitSizes {
  readonly largestPt: number;
  readonly smallestPt: number;
  readonly isBold: boolean;
  /** As in a text style. */
  readonly leading?: number;
}

export interface FittedText {
  readonly lines: readonly TextLine[];
  readonly style: TextStyle;
  readonly heightPt: number;
  /** The text did not fit at the smallest size, and its end is missing. */
  readonly isCut: boolean;
}

type Room = Pick<Box, 'widthPt' | 'heightPt'>;

function fitted(lines: readonly TextLine[], style: TextStyle, isCut: boolean): FittedText {
  return { lines, style, heightPt: lines.length * lineHeightPt(style), isCut };
}

/**
 * The text in the largest size, in steps of one point, at which it fits its room with every word whole. In the smallest
 * size words may be split, and what still does not fit is cut.
 */
export function fitText(canvas: Canvas, text: string, room: Room, sizes: FitSizes): FittedText {
  const words = text.split(/\s+/);
  for (let sizePt = sizes.largestPt; sizePt >= sizes.smallestPt; sizePt -= 1) {
    const style = { sizePt, isBold: sizes.isBold, leading: sizes.leading };
    if (words.some((word) => canvas.layout(word, room.widthPt, style).length > 1)) continue;
    const whole = fitted(canvas.layout(text, room.widthPt, style), style, false);
    if (whole.heightPt <= room.heightPt) return whole;
  }
  const style = { sizePt: sizes.smallestPt, isBold: sizes.isBold, leading: sizes.leading };
  const linesMax = Math.max(1, Math.floor(room.heightPt / lineHeightPt(style)));
  const isCut = canvas.layout(text, room.widthPt, style).length > linesMax;
  return fitted(cutText(canvas, text, room.widthPt, style, linesMax), style, isCut);
}

/** Draws fitted text from the left of its box, or from the right when it reads so, with its top at yPt. */
export function drawFitted(canvas: Canvas, { lines, style }: FittedText, box: Pick<Box, 'xPt' | 'yPt' | 'widthPt'>): void {
  lines.forEach((line, i) => {
    const shiftPt = line.isRightToLeft ? box.widthPt - line.widthPt : 0;
    canvas.drawLine(line, box.xPt + shiftPt, box.yPt + i * lineHeightPt(style), style);
  });
}
