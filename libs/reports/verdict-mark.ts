/** Small drawings that tell verdicts apart without colour, each always beside its words. */
import { type Canvas, lineHeightPt } from './canvas.js';
import type { CoilVerdict } from './coil-data.js';
import type { TextStyle } from './line-layout.js';
import { BODY } from './page-frame.js';
import type { MarkedText } from './table.js';

export const VERDICT_WORDS: Record<CoilVerdict, string> = {
  conforms: 'conforms',
  'inside-guard-band': 'inside the guard band',
  'not-comparable': 'not comparable',
  'not-reported': 'not reported',
  'does-not-conform': 'does not conform',
};

const GAP_SHARE = 0.5;
const SIDE_SHARE = 0.85;

interface Square {
  readonly xPt: number;
  readonly yPt: number;
  readonly sidePt: number;
}

/** A stroke inside a square; places are shares of its side, from its top left corner. */
function stroke(canvas: Canvas, { xPt, yPt, sidePt }: Square, [fromX, fromY, toX, toY]: readonly [number, number, number, number], grey = 'black'): void {
  const rule = { widthPt: sidePt * 0.16, grey };
  canvas.drawRule(xPt + fromX * sidePt, yPt + fromY * sidePt, xPt + toX * sidePt, yPt + toY * sidePt, rule);
}

function frame(canvas: Canvas, { xPt, yPt, sidePt }: Square, dashPt?: number): void {
  canvas.drawArea({ xPt, yPt, widthPt: sidePt, heightPt: sidePt }, 'blank', { widthPt: sidePt * 0.09, dashPt });
}

const DRAWINGS: Record<CoilVerdict, (canvas: Canvas, square: Square) => void> = {
  // A tick in an open square.
  conforms: (canvas, square) => {
    frame(canvas, square);
    stroke(canvas, square, [0.2, 0.5, 0.42, 0.75]);
    stroke(canvas, square, [0.4, 0.75, 0.82, 0.22]);
  },
  // Half black: within the limit, and within the uncertainty of it.
  'inside-guard-band': (canvas, square) => {
    frame(canvas, square);
    canvas.drawSolid({ xPt: square.xPt, yPt: square.yPt, widthPt: square.sidePt / 2, heightPt: square.sidePt });
  },
  // A sign of inequality in an open square.
  'not-comparable': (canvas, square) => {
    frame(canvas, square);
    stroke(canvas, square, [0.18, 0.38, 0.82, 0.38]);
    stroke(canvas, square, [0.18, 0.66, 0.82, 0.66]);
    stroke(canvas, square, [0.32, 0.88, 0.68, 0.14]);
  },
  // An empty square with a broken outline.
  'not-reported': (canvas, square) => {
    frame(canvas, square, square.sidePt / 5);
  },
  // A white cross on black.
  'does-not-conform': (canvas, square) => {
    canvas.drawSolid({ xPt: square.xPt, yPt: square.yPt, widthPt: square.sidePt, heightPt: square.sidePt });
    stroke(canvas, square, [0.2, 0.2, 0.8, 0.8], 'white');
    stroke(canvas, square, [0.2, 0.8, 0.8, 0.2], 'white');
  },
};

/** Width of a mark and the gap after it, beside text of a style. */
export function verdictIndentPt({ sizePt }: TextStyle): number {
  return (SIDE_SHARE + GAP_SHARE) * sizePt;
}

/** Draws the mark of a verdict beside a line of text whose top is at yPt. */
export function drawVerdictMark(canvas: Canvas, verdict: CoilVerdict, xPt: number, yPt: number, style: TextStyle): void {
  const sidePt = SIDE_SHARE * style.sizePt;
  DRAWINGS[verdict](canvas, { xPt, yPt: yPt + (lineHeightPt(style) - sidePt) / 2, sidePt });
}

/** A table cell that says a verdict in shape and words; `more` stands on lines of its own. */
export function verdictCell(verdict: CoilVerdict, ...more: readonly string[]): MarkedText {
  return {
    text: [VERDICT_WORDS[verdict], ...more].join('\n'),
    indentPt: verdictIndentPt(BODY),
    drawMark: (canvas, xPt, yPt) => {
      drawVerdictMark(canvas, verdict, xPt, yPt, BODY);
    },
  };
}
