import type { Canvas } from './canvas.js';
import type { TextLine, TextStyle } from './line-layout.js';

/** Text laid out in at most `linesMax` lines; a longer one is cut there and ends in an ellipsis. */
export function cutText(canvas: Canvas, text: string, widthPt: number, style: TextStyle, linesMax: number): TextLine[] {
  const lines = canvas.layout(text, widthPt, style);
  if (lines.length <= linesMax) return lines;
  const narrower = canvas.layout(text, widthPt - 2 * style.sizePt, style).slice(0, linesMax);
  const last = narrower.pop();
  const [ellipsis] = canvas.layout('…', widthPt, style);
  if (last === undefined || ellipsis === undefined) return narrower;
  return [...narrower, joinLines(last, ellipsis)];
}

function joinLines(first: TextLine, second: TextLine): TextLine {
  const moved = second.pieces.map((piece) => ({ ...piece, xPt: piece.xPt + first.widthPt }));
  return { ...first, pieces: [...first.pieces, ...moved], widthPt: first.widthPt + second.widthPt };
}
