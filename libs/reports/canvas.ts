import PDFDocument from 'pdfkit';
import { FontShelf } from './font-shelf.js';
import { layoutText, type TextLine, type TextStyle, type TypeCase } from './line-layout.js';

export type Paper = 'A4' | 'Letter';
/** What is drawn on: a paper, upright or across, or a label of 148 by 105 mm. */
export type Sheet = Paper | 'A4-across' | 'Letter-across' | 'label';

/** One thing drawn, with the box it takes up, in points from the top left corner of its page. */
export interface DrawnMark {
  readonly pageIndex: number;
  /**
   * A `module` is one dark square of a QR code; a `solid` is any other black area; an `outline` is an area of any shape, a `curve` a
   * line through many points, and `strokes` are many lines drawn as one.
   */
  readonly kind: 'text' | 'rule' | 'area' | 'solid' | 'module' | 'outline' | 'curve' | 'strokes';
  readonly text: string;
  readonly xPt: number;
  readonly yPt: number;
  readonly widthPt: number;
  readonly heightPt: number;
}

export interface CanvasOptions {
  readonly sheet: Sheet;
  readonly title: string;
  readonly language: string;
  readonly createdAt: Date;
  readonly isCompressed?: boolean;
  /** Told of each thing drawn. */
  readonly record?: (mark: DrawnMark) => void;
}

export const MARGIN_PT = 42;
export const PT_PER_MM = 72 / 25.4;
/** Distance between the tops of two lines, in multiples of the type size; room for Devanagari and stacked marks. */
const LEADING = 1.4;
const BASELINE = 1;

/** Distance between the tops of two lines, in points. */
export function lineHeightPt(style: TextStyle): number {
  return style.sizePt * (style.leading ?? LEADING);
}

const HATCH_PITCH_PT = 3;
const DOT_PITCH_PT = 3;

// An empty list of features makes the writer shape a text as one run. Without it the writer goes word by word, which
// puts the words of a right-to-left run in the wrong order.
const SHAPED_AS_ONE_RUN: [] = [];

export interface Rule {
  readonly widthPt?: number;
  readonly grey?: string;
  readonly dashPt?: number;
}

export type Point = readonly [xPt: number, yPt: number];

export interface Box {
  readonly xPt: number;
  readonly yPt: number;
  readonly widthPt: number;
  readonly heightPt: number;
}

const SHEET_SIZE_PT: Record<Sheet, readonly [number, number]> = {
  A4: [595.28, 841.89],
  Letter: [612, 792],
  'A4-across': [841.89, 595.28],
  'Letter-across': [792, 612],
  label: [148 * PT_PER_MM, 105 * PT_PER_MM],
};

/** A PDF being drawn: text in any script, rules, hatched and solid areas, in black, white and greys, no links. */
export class Canvas implements TypeCase {
  readonly document: PDFKit.PDFDocument;
  readonly widthPt: number;
  readonly heightPt: number;
  private readonly shelf = new FontShelf();
  private readonly registered = new Set<string>();
  private readonly widthsOfOnePoint = new Map<string, number>();
  private pageIndex = -1;

  constructor(private readonly options: CanvasOptions) {
    [this.widthPt, this.heightPt] = SHEET_SIZE_PT[options.sheet];
    this.document = new PDFDocument({
      size: [this.widthPt, this.heightPt],
      margin: 0,
      autoFirstPage: false,
      bufferPages: true,
      compress: options.isCompressed ?? true,
      lang: options.language,
      displayTitle: true,
      pdfVersion: '1.7',
      info: { Title: options.title, Creator: 'Everymetre', Producer: 'Everymetre', CreationDate: options.createdAt },
    });
  }

  get pageCount(): number {
    return this.document.bufferedPageRange().count;
  }

  addPage(): void {
    this.document.addPage();
    this.pageIndex = this.pageCount - 1;
  }

  /** Turns back to a page drawn before. */
  returnTo(pageIndex: number): void {
    this.document.switchToPage(pageIndex);
    this.pageIndex = pageIndex;
  }

  fontFor(grapheme: string, isBold: boolean): string | null {
    return this.shelf.fontFor(grapheme, isBold);
  }

  measurePt(text: string, fontId: string, sizePt: number): number {
    const key = `${fontId} ${text}`;
    const known = this.widthsOfOnePoint.get(key);
    if (known !== undefined) return known * sizePt;
    this.useFont(fontId);
    const widthOfOnePoint = this.document.fontSize(1000).widthOfString(text, { features: SHAPED_AS_ONE_RUN }) / 1000;
    this.widthsOfOnePoint.set(key, widthOfOnePoint);
    return widthOfOnePoint * sizePt;
  }

  layout(text: string, widthPt: number, style: TextStyle): TextLine[] {
    return layoutText(text, widthPt, style, this);
  }

  /** Draws a laid-out line with its left end at xPt and its top at yPt. */
  drawLine(line: TextLine, xPt: number, yPt: number, style: TextStyle, ink: 'black' | 'white' = 'black'): void {
    for (const piece of line.pieces) {
      this.useFont(piece.fontId);
      this.document.fontSize(style.sizePt).fillColor(ink);
      this.document.text(piece.text, xPt + piece.xPt, yPt + BASELINE * style.sizePt, {
        lineBreak: false,
        baseline: 'alphabetic',
        features: SHAPED_AS_ONE_RUN,
      });
      this.record('text', piece.text, xPt + piece.xPt, yPt, piece.widthPt, lineHeightPt(style));
    }
  }

  drawRule(fromXPt: number, fromYPt: number, toXPt: number, toYPt: number, rule: Rule = {}): void {
    this.document.lineWidth(rule.widthPt ?? 0.5).strokeColor(rule.grey ?? 'black');
    if (rule.dashPt !== undefined) this.document.dash(rule.dashPt, { space: rule.dashPt });
    this.document.moveTo(fromXPt, fromYPt).lineTo(toXPt, toYPt).stroke().undash();
    this.record('rule', '', Math.min(fromXPt, toXPt), Math.min(fromYPt, toYPt), Math.abs(toXPt - fromXPt), Math.abs(toYPt - fromYPt));
  }

  /** A framed box: left blank, hatched with slanting lines, or dotted. */
  drawArea(box: Box, filling: 'blank' | 'hatched' | 'dotted', rule: Rule = {}): void {
    const { xPt, yPt, widthPt, heightPt } = box;
    this.document.save().rect(xPt, yPt, widthPt, heightPt).fillColor('white').fill();
    this.document.rect(xPt, yPt, widthPt, heightPt).clip();
    if (filling === 'hatched') this.hatch(box);
    if (filling === 'dotted') this.dot(box);
    this.document.restore();
    this.document.lineWidth(rule.widthPt ?? 0.5).strokeColor(rule.grey ?? 'black');
    if (rule.dashPt !== undefined) this.document.dash(rule.dashPt, { space: rule.dashPt });
    this.document.rect(xPt, yPt, widthPt, heightPt).stroke().undash();
    this.record('area', '', xPt, yPt, widthPt, heightPt);
  }

  drawSolid({ xPt, yPt, widthPt, heightPt }: Box): void {
    this.document.rect(xPt, yPt, widthPt, heightPt).fillColor('black').fill();
    this.record('solid', '', xPt, yPt, widthPt, heightPt);
  }

  /** The dark squares of a QR code, filled as one shape: filled one by one, screens show seams between them. */
  drawModules(squares: readonly Box[]): void {
    for (const { xPt, yPt, widthPt, heightPt } of squares) {
      this.document.rect(xPt, yPt, widthPt, heightPt);
      this.record('module', '', xPt, yPt, widthPt, heightPt);
    }
    this.document.fillColor('black').fill();
  }

  /** An area of any shape, filled, framed or both. */
  drawOutline(points: readonly Point[], fill: string | null, rule: Rule | null): void {
    this.trace(points);
    this.document.closePath();
    if (fill !== null) this.document.fillColor(fill);
    if (rule !== null) this.takeUp(rule);
    if (fill !== null && rule !== null) this.document.fillAndStroke();
    else if (fill !== null) this.document.fill();
    else this.document.stroke();
    if (rule?.dashPt !== undefined) this.document.undash();
    this.recordPoints('outline', points);
  }

  /** One line through all of the points. */
  drawCurve(points: readonly Point[], rule: Rule): void {
    this.trace(points);
    this.takeUp(rule);
    this.document.stroke();
    if (rule.dashPt !== undefined) this.document.undash();
    this.recordPoints('curve', points);
  }

  /** Lines apart from each other, drawn with one stroke of the pen. */
  drawStrokes(segments: readonly (readonly [from: Point, to: Point])[], rule: Rule): void {
    for (const segment of segments) this.trace(segment);
    this.takeUp(rule);
    this.document.stroke();
    if (rule.dashPt !== undefined) this.document.undash();
    this.recordPoints('strokes', segments.flat());
  }

  private trace(points: readonly Point[]): void {
    points.forEach(([xPt, yPt], at) => (at === 0 ? this.document.moveTo(xPt, yPt) : this.document.lineTo(xPt, yPt)));
  }

  private takeUp({ widthPt, grey, dashPt }: Rule): void {
    this.document.lineWidth(widthPt ?? 0.5).strokeColor(grey ?? 'black');
    if (dashPt !== undefined) this.document.dash(dashPt, { space: dashPt });
  }

  private recordPoints(kind: DrawnMark['kind'], points: readonly Point[]): void {
    if (this.options.record === undefined || points.length === 0) return;
    let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
    for (const [xPt, yPt] of points) {
      [left, top] = [Math.min(left, xPt), Math.min(top, yPt)];
      [right, bottom] = [Math.max(right, xPt), Math.max(bottom, yPt)];
    }
    this.record(kind, '', left, top, right - left, bottom - top);
  }

  private hatch({ xPt, yPt, widthPt, heightPt }: Box): void {
    this.document.lineWidth(0.7).strokeColor('black');
    for (let startPt = xPt - heightPt; startPt < xPt + widthPt; startPt += HATCH_PITCH_PT) {
      this.document.moveTo(startPt, yPt + heightPt).lineTo(startPt + heightPt, yPt).stroke();
    }
  }

  private dot({ xPt, yPt, widthPt, heightPt }: Box): void {
    this.document.fillColor('black');
    for (let dotPt = xPt + DOT_PITCH_PT / 2; dotPt < xPt + widthPt; dotPt += DOT_PITCH_PT) {
      this.document.circle(dotPt, yPt + heightPt / 2, 0.5).fill();
    }
  }

  private record(kind: DrawnMark['kind'], text: string, xPt: number, yPt: number, widthPt: number, heightPt: number): void {
    this.options.record?.({ pageIndex: this.pageIndex, kind, text, xPt, yPt, widthPt, heightPt });
  }

  private useFont(fontId: string): void {
    if (!this.registered.has(fontId)) {
      this.document.registerFont(fontId, this.shelf.bytesOf(fontId));
      this.registered.add(fontId);
    }
    this.document.font(fontId);
  }
}
