import { lineHeightPt, PT_PER_MM } from './canvas.js';
import type { CoilSheetData } from './coil-data.js';
import { drawFitted, fitText } from './fit-text.js';
import type { TextStyle } from './line-layout.js';
import { BODY, type PageFrame } from './page-frame.js';
import { drawQrCode } from './qr-code.js';
import { orNone } from './shared-sections.js';
import { drawVerdictMark, VERDICT_WORDS, verdictIndentPt } from './verdict-mark.js';

const QR_SIDE_PT = 30 * PT_PER_MM;
const GAP_PT = 8;
const SMALLEST_PT = 8;
const LARGE: TextStyle = { sizePt: 15, isBold: true };

/**
 * What a reader wants first, in large type: which coil, its state and its verdict, beside the code that leads to the
 * record. What is cut here for want of room stands in full in the sections; the link stands in full under the code.
 */
export function drawCoilSummary(frame: PageFrame, data: CoilSheetData): void {
  frame.ensure(QR_SIDE_PT + 3 * lineHeightPt(BODY));
  const { canvas, leftPt, yPt } = frame;
  const textPt = frame.widthPt - QR_SIDE_PT - GAP_PT;
  drawQrCode(canvas, data.link, { xPt: leftPt, yPt, sidePt: QR_SIDE_PT });
  const box = { xPt: leftPt + QR_SIDE_PT + GAP_PT, widthPt: textPt };
  const rowPt = QR_SIDE_PT / 3;
  const sizes = { largestPt: LARGE.sizePt, smallestPt: SMALLEST_PT, isBold: true };
  [data.identity.number, orNone(data.identity.state)].forEach((text, i) => {
    const fitted = fitText(canvas, text, { widthPt: textPt, heightPt: rowPt }, sizes);
    drawFitted(canvas, fitted, { ...box, yPt: yPt + i * rowPt + (rowPt - fitted.heightPt) / 2 });
  });
  drawVerdictLine(frame, data, { xPt: box.xPt, yPt: yPt + 2 * rowPt + (rowPt - lineHeightPt(LARGE)) / 2, widthPt: textPt });
  frame.yPt += QR_SIDE_PT;
  frame.paragraph(data.link);
  frame.gap();
}

function drawVerdictLine({ canvas }: PageFrame, { verdict }: CoilSheetData, at: { xPt: number; yPt: number; widthPt: number }): void {
  drawVerdictMark(canvas, verdict, at.xPt, at.yPt, LARGE);
  for (const line of canvas.layout(VERDICT_WORDS[verdict], at.widthPt, LARGE)) {
    canvas.drawLine(line, at.xPt + verdictIndentPt(LARGE), at.yPt, LARGE);
  }
}
