import { type Canvas, lineHeightPt } from './canvas.js';
import type { TextLine, TextStyle } from './line-layout.js';
import { BODY, BODY_BOLD, type PageFrame } from './page-frame.js';

export interface Column {
  readonly title: string;
  /** Part of the table's width; the shares of a table add up to 1. */
  readonly share: number;
  readonly isBold?: boolean;
}

/** A text, or a text with a small drawing before its first line. */
export type Cell = string | MarkedText;

export interface MarkedText {
  readonly text: string;
  /** Width of the drawing and the gap after it. */
  readonly indentPt: number;
  /** Draws with its left end at xPt, beside a body line whose top is at yPt. */
  readonly drawMark: (canvas: Canvas, xPt: number, yPt: number) => void;
}

interface LaidCell {
  readonly lines: readonly TextLine[];
  readonly mark: MarkedText | null;
}

const CELL_GAP_PT = 6;
const ROW_GAP_PT = 2.5;
// A row up to this part of a page moves whole to the next page; a longer one is broken between its lines.
const WHOLE_ROW_SHARE = 0.3;
const LINE_PT = lineHeightPt(BODY);
const ROW_RULE = { widthPt: 0.4, grey: '#999999' };

/** Draws rows of text under a header that is repeated on each page. */
class TableDrawing {
  constructor(
    private readonly frame: PageFrame,
    private readonly columns: readonly Column[],
    private readonly hasHeader: boolean,
  ) {}

  draw(rows: readonly (readonly Cell[])[]): void {
    rows.forEach((row, i) => {
      const cells = this.layoutCells(row, bodyStyle);
      this.makeRoom(cells, i === 0);
      this.drawRow(cells);
    });
  }

  heightPt(rows: readonly (readonly Cell[])[]): number {
    return rows.reduce((sum, row) => {
      const cells = this.layoutCells(row, bodyStyle);
      return sum + lineCount(cells) * LINE_PT + 2 * ROW_GAP_PT;
    }, this.headerPt());
  }

  private layoutCells(cells: readonly Cell[], styleOf: (column: Column) => TextStyle): LaidCell[] {
    return this.columns.map((column, i) => {
      const cell = cells[i] ?? '';
      const mark = typeof cell === 'string' ? null : cell;
      const text = typeof cell === 'string' ? cell : cell.text;
      return { lines: this.frame.canvas.layout(text, this.cellWidthPt(column) - indentPt(mark), styleOf(column)), mark };
    });
  }

  private cellWidthPt(column: Column): number {
    return column.share * this.frame.widthPt - CELL_GAP_PT;
  }

  private titleCells(): LaidCell[] {
    return this.layoutCells(this.columns.map((column) => column.title), () => BODY_BOLD);
  }

  private headerPt(): number {
    return this.hasHeader ? lineCount(this.titleCells()) * LINE_PT + 2 * ROW_GAP_PT : 0;
  }

  private makeRoom(cells: readonly LaidCell[], isFirst: boolean): void {
    const rowPt = lineCount(cells) * LINE_PT + 2 * ROW_GAP_PT;
    const isWhole = rowPt <= WHOLE_ROW_SHARE * this.frame.fullRoomPt;
    const neededPt = isWhole ? rowPt : 3 * LINE_PT + ROW_GAP_PT;
    const startsPage = neededPt + (isFirst ? this.headerPt() : 0) > this.frame.roomPt;
    if (startsPage) this.frame.newPage();
    if (isFirst || startsPage) this.drawHeader();
  }

  private drawHeader(): void {
    if (!this.hasHeader) return;
    const cells = this.titleCells();
    this.frame.yPt += ROW_GAP_PT;
    this.drawCells(cells, 0, lineCount(cells), () => BODY_BOLD);
    this.frame.yPt += ROW_GAP_PT;
    this.drawRule({ widthPt: 0.8 });
  }

  private drawRow(cells: readonly LaidCell[]): void {
    const total = lineCount(cells);
    this.frame.yPt += ROW_GAP_PT;
    let first = 0;
    while (first < total) {
      const fitting = Math.floor((this.frame.roomPt - ROW_GAP_PT) / LINE_PT);
      const count = Math.max(1, Math.min(total - first, fitting));
      this.drawCells(cells, first, first + count, bodyStyle);
      first += count;
      if (first < total) this.continueRow();
    }
    this.frame.yPt += ROW_GAP_PT;
    this.drawRule(ROW_RULE);
  }

  private continueRow(): void {
    this.frame.newPage();
    this.drawHeader();
    this.frame.yPt += ROW_GAP_PT;
  }

  private drawCells(cells: readonly LaidCell[], from: number, to: number, styleOf: (column: Column) => TextStyle): void {
    let xPt = this.frame.leftPt;
    this.columns.forEach((column, i) => {
      const { lines, mark } = cells[i] ?? { lines: [], mark: null };
      if (from === 0) mark?.drawMark(this.frame.canvas, xPt, this.frame.yPt);
      lines.slice(from, to).forEach((line, row) => {
        const shiftPt = line.isRightToLeft ? this.cellWidthPt(column) - line.widthPt : indentPt(mark);
        this.frame.canvas.drawLine(line, xPt + shiftPt, this.frame.yPt + row * LINE_PT, styleOf(column));
      });
      xPt += column.share * this.frame.widthPt;
    });
    this.frame.yPt += (to - from) * LINE_PT;
  }

  private drawRule(rule: { widthPt: number; grey?: string }): void {
    const { leftPt, widthPt, yPt } = this.frame;
    this.frame.canvas.drawRule(leftPt, yPt, leftPt + widthPt, yPt, rule);
  }
}

function bodyStyle(column: Column): TextStyle {
  return column.isBold === true ? BODY_BOLD : BODY;
}

function indentPt(mark: MarkedText | null): number {
  return mark?.indentPt ?? 0;
}

function lineCount(cells: readonly LaidCell[]): number {
  return Math.max(1, ...cells.map(({ lines }) => lines.length));
}

/** A table whose header is repeated on each page; rows longer than a page are broken between lines. */
export function drawTable(frame: PageFrame, columns: readonly Column[], rows: readonly (readonly Cell[])[]): void {
  new TableDrawing(frame, columns, true).draw(rows);
}

export type Fields = readonly (readonly [name: string, value: Cell])[];

function fieldsDrawing(frame: PageFrame): TableDrawing {
  const columns = [
    { title: '', share: 0.24, isBold: true },
    { title: '', share: 0.76 },
  ];
  return new TableDrawing(frame, columns, false);
}

/** Named fields one under another: the name on the left, its value on the right. */
export function drawFields(frame: PageFrame, fields: Fields): void {
  fieldsDrawing(frame).draw(fields);
}

/** Height that `drawFields` would take on one endless page, in points. */
export function fieldsHeightPt(frame: PageFrame, fields: Fields): number {
  return fieldsDrawing(frame).heightPt(fields);
}
