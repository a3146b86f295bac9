import { type Canvas, lineHeightPt, MARGIN_PT } from './canvas.js';
import { cutText } from './cut-text.js';
import type { TextLine, TextStyle } from './line-layout.js';

/** What every page says; rows of left and right texts. The page number stands at the right end of the last footer row. */
export interface PageFrameText {
  readonly header: readonly (readonly [left: string, right: string])[];
  /** One paragraph under the header of every page, or none. */
  readonly warning: string;
  readonly footer: readonly (readonly [left: string, right: string])[];
}

export const BODY: TextStyle = { sizePt: 8.5, isBold: false };
export const BODY_BOLD: TextStyle = { sizePt: 8.5, isBold: true };
const SMALL: TextStyle = { sizePt: 7, isBold: false };
const SMALL_BOLD: TextStyle = { sizePt: 7, isBold: true };
const HEADING: TextStyle = { sizePt: 11, isBold: true };
const GAP_PT = 6;
const BAR_PT = 4;
const PAGES_MAX = 400;
// A name longer than this many header lines is cut there; it stands in full in the first section.
const FRAME_LINES_MAX = 2;

/** A report that would run to more pages than a person could use, or a server should draw. */
export class ReportTooLongError extends Error {
  constructor() {
    super(`the report is longer than ${PAGES_MAX} pages`);
    this.name = 'ReportTooLongError';
  }
}

/** Pages with a header and a footer, and a cursor `yPt` that moves down the body of the current page. */
export class PageFrame {
  readonly leftPt = MARGIN_PT;
  readonly widthPt: number;
  yPt = 0;
  private readonly header: readonly (readonly [TextLine[], TextLine[]])[];
  private readonly footer: readonly (readonly [TextLine[], TextLine[]])[];
  private readonly warning: readonly TextLine[];
  private readonly topPt: number;
  private readonly bottomPt: number;

  constructor(
    readonly canvas: Canvas,
    text: PageFrameText,
  ) {
    this.widthPt = canvas.widthPt - 2 * MARGIN_PT;
    this.header = text.header.map((row) => this.layoutRow(row));
    this.footer = text.footer.map((row) => this.layoutRow(row));
    this.warning = this.cut(text.warning, this.widthPt, SMALL_BOLD);
    this.topPt = MARGIN_PT + this.rowsHeightPt(this.header) + this.warning.length * lineHeightPt(SMALL) + 2 * GAP_PT;
    this.bottomPt = canvas.heightPt - MARGIN_PT - this.rowsHeightPt(this.footer) - 2 * GAP_PT;
    this.newPage();
  }

  get roomPt(): number {
    return this.bottomPt - this.yPt;
  }

  get fullRoomPt(): number {
    return this.bottomPt - this.topPt;
  }

  newPage(): void {
    if (this.canvas.pageCount >= PAGES_MAX) throw new ReportTooLongError();
    this.canvas.addPage();
    this.yPt = this.topPt;
  }

  /** Goes to a new page unless this much room is left. */
  ensure(heightPt: number): void {
    if (heightPt > this.roomPt && this.yPt > this.topPt) this.newPage();
  }

  /** A heading, kept on one page with the given height of what follows. */
  heading(text: string, followingPt: number = 3 * lineHeightPt(BODY)): void {
    const lines = this.canvas.layout(text, this.widthPt, HEADING);
    const headingPt = lines.length * lineHeightPt(HEADING) + 2 * GAP_PT;
    this.ensure(headingPt + Math.min(followingPt, this.fullRoomPt / 2));
    if (this.yPt > this.topPt) this.yPt += 1.5 * GAP_PT;
    this.drawLines(lines, HEADING);
    this.canvas.drawRule(this.leftPt, this.yPt, this.leftPt + this.widthPt, this.yPt, { widthPt: 0.8 });
    this.yPt += GAP_PT / 2;
  }

  /** Text of any length over as many pages as it takes, never one line of it alone at the foot of a page. */
  paragraph(text: string, style: TextStyle = BODY, indentPt = 0): void {
    const lines = this.canvas.layout(text, this.widthPt - indentPt, style);
    this.ensure(Math.min(lines.length, 2) * lineHeightPt(style));
    lines.forEach((line, i) => {
      const isSecondLast = lines.length > 2 && i === lines.length - 2;
      this.ensure((isSecondLast ? 2 : 1) * lineHeightPt(style));
      this.drawLines([line], style, indentPt);
    });
  }

  /** Text with a bar along its left edge, over as many pages as it takes, so that nobody reads past it. */
  barred(text: string, style: TextStyle = BODY): void {
    const indentPt = 2 * GAP_PT;
    for (const line of this.canvas.layout(text, this.widthPt - indentPt, style)) {
      this.ensure(lineHeightPt(style));
      this.canvas.drawSolid({ xPt: this.leftPt, yPt: this.yPt, widthPt: BAR_PT, heightPt: lineHeightPt(style) });
      this.drawLines([line], style, indentPt);
    }
    this.gap();
  }

  gap(): void {
    this.yPt += GAP_PT;
  }

  /** Draws header and footer on every page, now that their number is known. */
  finish(): void {
    for (let pageIndex = 0; pageIndex < this.canvas.pageCount; pageIndex += 1) {
      this.canvas.returnTo(pageIndex);
      this.drawHeader();
      this.drawFooter(`Page ${pageIndex + 1} of ${this.canvas.pageCount}`);
    }
  }

  private drawLines(lines: readonly TextLine[], style: TextStyle, indentPt = 0): void {
    for (const line of lines) {
      const xPt = line.isRightToLeft ? this.leftPt + this.widthPt - line.widthPt : this.leftPt + indentPt;
      this.canvas.drawLine(line, xPt, this.yPt, style);
      this.yPt += lineHeightPt(style);
    }
  }

  private cut(text: string, widthPt: number, style: TextStyle): TextLine[] {
    return cutText(this.canvas, text, widthPt, style, FRAME_LINES_MAX);
  }

  private layoutRow([left, right]: readonly [string, string]): readonly [TextLine[], TextLine[]] {
    const half = (this.widthPt - 2 * GAP_PT) / 2;
    return [this.cut(left, half, SMALL), this.cut(right, half, SMALL)];
  }

  private rowsHeightPt(rows: readonly (readonly [TextLine[], TextLine[]])[]): number {
    return rows.reduce((sum, [left, right]) => sum + Math.max(left.length, right.length) * lineHeightPt(SMALL), 0);
  }

  private drawRows(rows: readonly (readonly [TextLine[], TextLine[]])[], startPt: number): number {
    let yPt = startPt;
    for (const [left, right] of rows) {
      left.forEach((line, i) => {
        this.canvas.drawLine(line, this.leftPt, yPt + i * lineHeightPt(SMALL), SMALL);
      });
      right.forEach((line, i) => {
        this.canvas.drawLine(line, this.leftPt + this.widthPt - line.widthPt, yPt + i * lineHeightPt(SMALL), SMALL);
      });
      yPt += Math.max(left.length, right.length) * lineHeightPt(SMALL);
    }
    return yPt;
  }

  private drawHeader(): void {
    let yPt = this.drawRows(this.header, MARGIN_PT);
    for (const line of this.warning) {
      this.canvas.drawLine(line, this.leftPt, yPt, SMALL_BOLD);
      yPt += lineHeightPt(SMALL);
    }
    this.canvas.drawRule(this.leftPt, yPt + 2, this.leftPt + this.widthPt, yPt + 2);
  }

  private drawFooter(pageText: string): void {
    const startPt = this.bottomPt + 2 * GAP_PT;
    this.canvas.drawRule(this.leftPt, startPt - 2, this.leftPt + this.widthPt, startPt - 2);
    const yPt = this.drawRows(this.footer, startPt) - lineHeightPt(SMALL);
    for (const line of this.canvas.layout(pageText, this.widthPt, SMALL_BOLD)) {
      this.canvas.drawLine(line, this.leftPt + this.widthPt - line.widthPt, yPt, SMALL_BOLD);
    }
  }
}
