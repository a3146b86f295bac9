/** A report drawn with a record of everything on its pages, and what must never be found among it. */
import { type DrawnMark, type Paper, PT_PER_MM, type Sheet } from './canvas.js';
import { collectBytes } from './collect-bytes.js';
import type { NonconformanceReportData } from './nonconformance-data.js';
import { nonconformanceReport } from './nonconformance-report.js';
import { readPdf, type ReadPdf } from './pdf-text.reference.js';
import type { TagOptions } from './report-canvas.js';

export const PAPERS: readonly Paper[] = ['A4', 'Letter'];
export const PAPER_PT = {
  A4: [595.28, 841.89], Letter: [612, 792], 'A4-across': [841.89, 595.28], 'Letter-across': [792, 612], label: [419.528, 297.638],
} as const;
const MARGIN_PT = { A4: 42, Letter: 42, 'A4-across': 42, 'Letter-across': 42, label: 4 * PT_PER_MM };
const SLACK_PT = 0.01;
/** Two texts may share a sliver, since rounding moves a box by less than this. */
const SLIVER_PT = 0.1;

export interface DrawnReport extends ReadPdf {
  readonly bytes: Buffer;
  readonly marks: readonly DrawnMark[];
}

/** Draws with whatever `make` makes of options that record. */
export async function drawn(make: (options: TagOptions) => PDFKit.PDFDocument): Promise<DrawnReport> {
  const marks: DrawnMark[] = [];
  const bytes = await collectBytes(make({ isCompressed: false, record: (mark) => marks.push(mark) }));
  return { bytes, marks, ...readPdf(bytes) };
}

export function draw(data: NonconformanceReportData, paper: Paper = 'A4'): Promise<DrawnReport> {
  return drawn((options) => nonconformanceReport(data, { ...options, paper }));
}

/** Everything that reaches into a margin. */
export function marksOutside(marks: readonly DrawnMark[], sheet: Sheet): DrawnMark[] {
  const [widthPt, heightPt] = PAPER_PT[sheet];
  const marginPt = MARGIN_PT[sheet];
  return marks.filter((mark) => {
    const isInside =
      mark.xPt >= marginPt - SLACK_PT &&
      mark.yPt >= marginPt - SLACK_PT &&
      mark.xPt + mark.widthPt <= widthPt - marginPt + SLACK_PT &&
      mark.yPt + mark.heightPt <= heightPt - marginPt + SLACK_PT;
    return !isInside;
  });
}

/** Pairs of texts whose boxes share more than a sliver. */
export function collisions(marks: readonly DrawnMark[]): [string, string][] {
  const texts = marks.filter((mark) => mark.kind === 'text' && mark.text.trim() !== '');
  const pairs: [string, string][] = [];
  texts.forEach((a, i) => {
    for (const b of texts.slice(i + 1)) {
      const acrossPt = Math.min(a.xPt + a.widthPt, b.xPt + b.widthPt) - Math.max(a.xPt, b.xPt);
      const downPt = Math.min(a.yPt + a.heightPt, b.yPt + b.heightPt) - Math.max(a.yPt, b.yPt);
      if (a.pageIndex === b.pageIndex && acrossPt > SLIVER_PT && downPt > SLIVER_PT) pairs.push([a.text, b.text]);
    }
  });
  return pairs;
}

/** The text of a page without its white space, which the drawing does not keep. */
export const squeeze = (runs: readonly string[]): string => runs.join('').replace(/\s/g, '');
